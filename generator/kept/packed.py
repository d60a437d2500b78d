"""Results as bytes and back: plain values and our own dataclasses, kinds of device by their name.

What is read back is checked first, and only our own classes are made from it. It must not know where bytes are kept.
"""

import io
import pickle
import zlib
from collections.abc import Mapping
from hashlib import blake2b
from typing import Any

from generator.catalogue.kind import Kind
from generator.catalogue.kinds import KINDS
from generator.kept.staying import all_to_stay

_MARK = b"HBK1"
_SUM = 16
_LEVEL = 1
_PLAIN = {
    "builtins": frozenset({"frozenset", "set", "complex", "bytearray"}),
    "datetime": frozenset({"date", "datetime", "timedelta"}),
    "collections": frozenset({"OrderedDict", "Counter", "defaultdict"}),
    "types": frozenset({"MappingProxyType"}),
    "markupsafe": frozenset({"Markup"}),
    "copyreg": frozenset({"__newobj__", "_reconstructor"}),
    "pathlib": frozenset({"PosixPath", "PurePosixPath", "WindowsPath", "PureWindowsPath", "Path"}),
}
"""What may come back besides our own classes: values that can do nothing."""


class NotWhole(Exception):
    """Bytes that are not what was packed; whatever they were has to be made again."""


class _Packing(pickle.Pickler):
    def persistent_id(self, obj: Any) -> str | None:
        return obj.name if isinstance(obj, Kind) else None


class _Unpacking(pickle.Unpickler):
    def __init__(self, data: bytes, kinds: Mapping[str, Kind]) -> None:
        super().__init__(io.BytesIO(data))
        self._kinds = kinds

    def persistent_load(self, pid: Any) -> Kind:
        kind = self._kinds.get(pid)
        if kind is None:
            raise pickle.UnpicklingError(f"there is no kind {pid}")
        return kind

    def find_class(self, module_name: str, global_name: str) -> Any:
        if module_name.partition(".")[0] == "generator" and "." not in global_name:
            found = super().find_class(module_name, global_name)
            if isinstance(found, type) or global_name == "withheld":
                return found
        elif global_name in _PLAIN.get(module_name, ()):
            return super().find_class(module_name, global_name)
        raise pickle.UnpicklingError(f"{module_name}.{global_name} is not kept")


def pack(value: object) -> bytes:
    """The value as bytes.

    Args:
        value: Frozen dataclasses, enums and settings of ours, and plain values; no functions.
    """
    held = io.BytesIO()
    _Packing(held, protocol=5).dump(value)
    body = zlib.compress(held.getvalue(), _LEVEL)
    return _MARK + blake2b(body, digest_size=_SUM).digest() + body


def unpack(data: bytes, own_kinds: Mapping[str, Kind] | None = None) -> Any:
    """The value again.

    Args:
        data: What `pack` gave.
        own_kinds: The firm's own kinds by name.

    Raises:
        NotWhole: the bytes were changed or cut, or name something that is no longer there.
    """
    body = data[len(_MARK) + _SUM :]
    if data[: len(_MARK)] != _MARK:
        raise NotWhole
    if blake2b(body, digest_size=_SUM).digest() != data[len(_MARK) : len(_MARK) + _SUM]:
        raise NotWhole
    try:
        with all_to_stay():
            return _Unpacking(zlib.decompress(body), _kinds(own_kinds)).load()
    except Exception as error:
        raise NotWhole from error


_BUILT_IN = {kind.name: kind for kind in KINDS}


def _kinds(own: Mapping[str, Kind] | None) -> Mapping[str, Kind]:
    return {**own, **_BUILT_IN} if own else _BUILT_IN
