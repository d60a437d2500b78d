"""The firm's own settings: its name and number as pages print them, and where outputs and the secret go.

It must not know what pages say or how they are written; it reads one small file, which may be absent.
"""

import os
from pathlib import Path
from typing import Annotated, Any

from pydantic import AfterValidator, BaseModel, BeforeValidator, ConfigDict, Field, StringConstraints, ValidationError

from generator.findings.errors import CannotReadFile
from generator.overrides.policy import Policy, VentedLever
from generator.record.schema import json_schema
from generator.record.wording import as_text, found, path_words
from generator.record.yaml12 import load
from generator.site.errors import BadSettings

FILE_NAME = "hearthbook.yml"
NOT_SET = "not set"


def _as_written(value: object) -> object:
    """Take a telephone number written without quotes as it stands, leading zeros included."""
    text = as_text(value)
    return value if text is None else text


Line = Annotated[
    str,
    BeforeValidator(_as_written),
    StringConstraints(min_length=1, max_length=200, strip_whitespace=True, pattern=r"^[^\r\n]*$"),
]


def _at_home(written: str) -> str:
    try:
        Path(written).expanduser()
    except RuntimeError as error:
        raise ValueError(str(error)) from error
    return written


Place = Annotated[Line, AfterValidator(_at_home)]
"""A file or folder; one that begins with a tilde lies in somebody's home."""

Url = Annotated[
    str,
    StringConstraints(
        max_length=200,
        strip_whitespace=True,
        pattern=r"^https?://[A-Za-z0-9.:\[\]-]+(/[A-Za-z0-9._~%!$&'()*+,;=:@/-]*)?$",
    ),
]
"""Where a site is to be found; no question mark, no fragment."""
Tag = Annotated[str, StringConstraints(max_length=40, pattern=r"^[a-z]{2,3}(-[A-Za-z0-9]{1,8})*$")]


class _Part(BaseModel):
    model_config = ConfigDict(strict=True, frozen=True, extra="forbid", defer_build=True)


class Firm(_Part):
    """How the firm is named on pages."""

    name: Annotated[Line, Field(description="The firm's name as tenants know it.")] = "The heating team"
    phone: Annotated[Line, Field(description="The number that tenants ring, as it is to be printed.")] = (
        NOT_SET
    )
    login_note: Annotated[
        Line | None,
        Field(description="One sentence at the foot of the engineers' pages, such as who may read them."),
    ] = None


class Outputs(_Part):
    """Where things are written, relative to the settings file."""

    engineers: Annotated[Place, Field(description="Folder of the engineers' site.")] = "site"
    tenants: Annotated[Place, Field(description="Folder of the tenants' site.")] = "site-tenants"
    cache: Annotated[Place, Field(description="Folder of what may be deleted at any time.")] = (
        ".hearthbook-cache"
    )


class Tenants(_Part):
    """The tenants' site."""

    secret: Annotated[
        Place, Field(description="File with the secret behind the tenants' addresses; made when first needed.")
    ] = "~/.config/hearthbook/tenant-secret"  # noqa: S105  # where it is, not what it is
    language: Annotated[
        Tag,
        Field(
            description="Language of tenants' pages and labels where a record does not name its own, as a language tag."
        ),
    ] = "en"
    right_to_repair: Annotated[
        bool,
        Field(
            description="True for a council with 100 homes or more: tenants' pages of homes in England then say by when lost heat "
            "or hot water has to be mended for a council's own tenants (SI 1994/133, Schedule)."
        ),
    ] = False


class TenantOverrides(_Part):
    """What tenants may be told to do while something has failed, where more than one answer is right."""

    vented_lever: Annotated[
        VentedLever,
        Field(
            description="Whether a tenant may latch open the valve to a vented cylinder, which then heats past its thermostat "
            "whenever anything calls the boiler. Never for an unvented cylinder, whatever is set here."
        ),
    ] = "not allowed"
    lever_hours: Annotated[
        float,
        Field(gt=0, le=24, description="For how long a lever may stay latched, in hours.", strict=False),
    ] = 2.0

    @property
    def policy(self) -> Policy:
        """The same for the search."""
        return Policy(vented_lever=self.vented_lever, lever_hours=self.lever_hours)


class Published(_Part):
    """Where the two sites are once they are on their web servers; labels lead there."""

    engineers: Annotated[Url | None, Field(description="Address of the engineers' site.")] = None
    tenants: Annotated[Url | None, Field(description="Address of the tenants' site.")] = None


class FirmConfig(_Part):
    """The whole file. Everything in it has a default.

    Attributes:
        base: Folder that the file's paths are relative to; not written in the file.
    """

    firm: Firm = Firm()
    outputs: Outputs = Outputs()
    tenants: Tenants = Tenants()
    published: Published = Published()
    overrides: TenantOverrides = TenantOverrides()
    base: Annotated[Path, Field(exclude=True)] = Path()

    @property
    def engineers_dir(self) -> Path:
        return self._place(self.outputs.engineers)

    @property
    def tenants_dir(self) -> Path:
        return self._place(self.outputs.tenants)

    @property
    def cache_dir(self) -> Path:
        return self._place(self.outputs.cache)

    @property
    def secret_file(self) -> Path:
        return self._place(self.tenants.secret)

    def _place(self, written: str) -> Path:
        return Path(os.path.normpath(self.base / Path(written).expanduser()))


def settings_schema() -> dict[str, Any]:
    """JSON Schema of the settings file, so that an editor can help to write it."""
    schema = json_schema(FirmConfig)
    schema["properties"].pop("base")
    # A number written without quotes is taken as it stands.
    for part in schema["$defs"].values():
        for name, each in part.get("properties", {}).items():
            if name == "phone":
                each["type"] = ["string", "integer"]
    return {**schema, "type": ["object", "null"]}


def read_config(file: Path) -> FirmConfig:
    """Read the firm's settings.

    Args:
        file: May be absent; then every setting has its default.

    Returns:
        The settings, with paths relative to the folder of `file`.

    Raises:
        CannotReadFile: the file is there and cannot be read.
        BadSettings: it says something that cannot be; all faults at once, each with its place.
    """
    base = file.resolve().parent
    try:
        source = file.read_bytes()
    except FileNotFoundError:
        return FirmConfig(base=base)
    except OSError as error:
        raise CannotReadFile(str(file), error.strerror or str(error)) from error
    config = _parse(source, file, base)
    faults = _overlaps(config)
    if faults:
        raise BadSettings(faults)
    return config


def _parse(source: bytes, file: Path, base: Path) -> FirmConfig:
    document, findings = load(source, str(file))
    if findings or document is None:
        raise BadSettings(tuple(f"{each.span}: {each.message}" for each in findings))
    data: Any = {} if document.data is None else document.data
    if isinstance(data, dict) and "base" in data:
        raise BadSettings((f"{document.places.key(('base',))}: there is no setting `base`",))
    try:
        config = FirmConfig.model_validate(data)
    except ValidationError as error:
        faults = []
        for each in error.errors():
            path = each["loc"]
            unknown = each["type"] == "extra_forbidden"
            span = document.places.key(path) if unknown else document.places.value(path)
            faults.append(f"{span}: {_words(each['type'], path, each['input'])}")
        raise BadSettings(tuple(faults)) from None
    return config.model_copy(update={"base": base})


def _words(kind: str, path: tuple[int | str, ...], value: object) -> str:
    where = path_words(path) or "the file"
    if kind == "extra_forbidden":
        return f"there is no setting {where}"
    if path[:1] == ("published",) and len(path) == 2:
        return (
            f"{where} has to be an address such as `https://www.example.org/heating/`, and is {found(value)}"
        )
    if path == ("tenants", "language"):
        return f"{where} has to be a language tag such as `en` or `cy`, and is {found(value)}"
    if path == ("tenants", "right_to_repair"):
        return f"{where} has to be `true` or `false`, and is {found(value)}"
    if path == ("overrides", "vented_lever"):
        return f"{where} has to be `not allowed` or `with a warning`, and is {found(value)}"
    if path == ("overrides", "lever_hours"):
        return f"{where} has to be a number of hours above 0 and up to 24, and is {found(value)}"
    if kind == "value_error":
        user = str(value).partition("/")[0].removeprefix("~")
        return f"{where} lies in the home of `{user}`, and this machine has no such user"
    if kind in ("model_type", "model_attributes_type"):
        return f"{where} has to be a mapping, and is {found(value)}"
    return f"{where} has to be one line of text of at most 200 characters, and is {found(value)}"


def _overlaps(config: FirmConfig) -> tuple[str, ...]:
    """Find outputs that lie in one another: the tenants' site is served in the open, the others are not."""
    places = {
        "outputs.engineers": config.engineers_dir,
        "outputs.tenants": config.tenants_dir,
        "outputs.cache": config.cache_dir,
    }
    names = list(places)
    faults = [
        f"`{one}` and `{other}` lie in one another: {places[one]} and {places[other]}"
        for number, one in enumerate(names)
        for other in names[number + 1 :]
        if places[one].is_relative_to(places[other]) or places[other].is_relative_to(places[one])
    ]
    secret = config.secret_file
    faults += [f"`tenants.secret` lies in `{name}`" for name in names if secret.is_relative_to(places[name])]
    return tuple(faults)
