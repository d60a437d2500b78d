"""The one meeting point with mkdocs: its steps call ours, and everything else knows nothing of it.

It must not decide anything about pages: it hands frames, addresses and files over, and passes errors on.
"""

import logging
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from html import escape
from importlib import import_module
from pathlib import Path
from typing import Any

import jinja2
from mkdocs.commands.build import build, get_context
from mkdocs.commands.serve import serve
from mkdocs.config import config_options as c
from mkdocs.config import load_config
from mkdocs.config.base import Config
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import MkDocsException, PluginError
from mkdocs.livereload import LiveReloadServer
from mkdocs.plugins import BasePlugin, event_priority, get_plugin_logger
from mkdocs.structure.files import File, Files
from mkdocs.structure.nav import Navigation
from mkdocs.structure.pages import Page
from mkdocs.structure.toc import AnchorLink, TableOfContents

from generator.findings.errors import HearthbookError
from generator.site import shell
from generator.site.aside import Aside
from generator.site.config import FILE_NAME, FirmConfig, read_config
from generator.site.errors import BuilderFailed
from generator.site.follow_up import FollowUp
from generator.site.page import SiteContent, SitePage
from generator.site.shell import Shells
from generator.site.stage import ENGINEERS, Stage
from generator.site.swap import check_ours, write_mark
from generator.site.watching import Watcher
from generator.templates import templates_dir

CONTENT = "generator.site.publish:EngineersContent"
"""Who makes the pages, unless the plugin's options name another."""

_log = get_plugin_logger("hearthbook")

ContentMaker = Callable[[Path, FirmConfig], SiteContent]


class PluginOptions(Config):
    """The plugin's options in mkdocs.yml; paths are relative to that file.

    `properties` is the folder of records, `config` the firm's settings (the file may be absent), `content` who makes
    the pages, as `module:name` of a function taking the folder and the settings, or of a class whose one
    instance is called so for every build.
    """

    properties = c.Type(str, default="properties")
    config = c.Type(str, default=FILE_NAME)
    content = c.Type(str, default=CONTENT)


class HearthbookPlugin(BasePlugin[PluginOptions]):
    """Puts the pages of all properties into a site that mkdocs builds."""

    def __init__(self) -> None:
        super().__init__()
        self.older: Path | None = None
        """A finished site elsewhere, whose unchanged files may be linked into this one."""
        self.stage: Stage | None = None
        """By which the build was done; None until it has finished."""
        self.maker: ContentMaker | None = None
        """Who makes the pages, where that is not to be found by name."""
        self._make: tuple[str, ContentMaker] | None = None
        """Who makes the pages, by name: kept while a site is served."""
        self._aside: Aside | None = None
        self._serving = False
        self._follow_up: FollowUp | None = None
        """Once a site is served."""
        self._filled: dict[str, SitePage] = {}
        self._stage: Stage
        self._content: SiteContent
        self._files: Files
        self._nav: Navigation

    def on_startup(self, *, command: str, dirty: bool) -> None:
        """Being here is enough for mkdocs to keep this object from build to build while it serves."""
        self._serving = command == "serve"

    def on_config(self, config: MkDocsConfig) -> MkDocsConfig:
        watched = (self._properties(config), self._settings(config), templates_dir())
        config.watch += [str(path) for path in watched if path.exists()]
        return config

    def on_serve(
        self, server: LiveReloadServer, /, *, config: MkDocsConfig, builder: Callable[..., None]
    ) -> LiveReloadServer:
        """Notice changed records at once, however many there are."""
        watched = []
        for path in filter(None, (config.docs_dir, config.config_file_path, *config.theme.dirs)):
            with suppress(KeyError):  # themes are watched if that was asked for
                server.unwatch(path)
                watched.append(path)
        server.observer = Watcher()  # type: ignore[assignment]  # it has all methods that the server uses
        self._follow_up = FollowUp()
        for path in (*watched, str(self._follow_up.folder)):
            server.watch(path)
        return server

    def on_shutdown(self) -> None:
        if self._follow_up is not None:
            self._follow_up.end()

    def on_pre_build(self, *, config: MkDocsConfig) -> None:
        """Do what can fail before mkdocs empties the site, then set the site's folders aside."""
        if self._follow_up is not None:
            self._follow_up.withdraw()
        with _told_to_mkdocs():
            site = Path(config.site_dir)
            check_ours(site, audience=ENGINEERS)
            firm = read_config(self._settings(config))
            self._content = self._maker()(self._properties(config), firm)
            if firm.firm.login_note:
                config.copyright = escape(firm.firm.login_note, quote=False)
            for warning in self._content.warnings:
                _log.warning(warning)
            site.mkdir(parents=True, exist_ok=True)
            write_mark(site, audience=ENGINEERS)
            self._aside = Aside(site)
            self._aside.take_all()
            self._stage = Stage(
                site,
                older=self.older,
                aside=self._aside,
                site_url=config.site_url,
                sitemap=not self._serving,
            )

    def on_files(self, files: Files, *, config: MkDocsConfig) -> Files:
        """Add the style sheets and the script, which lie outside the folder of hand-written pages."""
        folder = templates_dir()
        for asset in sorted((folder / "assets").rglob("*")):
            if asset.is_file():
                name = asset.relative_to(folder).as_posix()
                files.append(File(name, str(folder), config.site_dir, config.use_directory_urls))
        return files

    def on_nav(self, nav: Navigation, *, config: MkDocsConfig, files: Files) -> Navigation:
        self._nav = nav
        return nav

    @event_priority(-100)  # Frames must see what other plugins do to the environment.
    def on_env(self, env: jinja2.Environment, *, config: MkDocsConfig, files: Files) -> jinja2.Environment:
        self._files = files
        places = {
            file.url: file.page
            for file in files.documentation_pages()
            if file.page is not None and file.page.meta.get("generated")
        }
        with _told_to_mkdocs():
            filled = self._stage.write(
                self._content,
                shells=Shells(lambda kind, depth: self._frame(env, config, kind, depth)),
                taken={file.dest_uri for file in files},
                places=places.keys(),
            )
        # A warning of mkdocs would fail a strict build, and the pages are right: with the last good state, or without a picture.
        for told in (*self._stage.warnings, *self._stage.faults):
            _log.info(told)
        for url, page in filled.items():
            _mark(places[url], page.kind)
        self._filled = filled
        return env

    @event_priority(-100)  # Whatever else is done to a page belongs to its frame.
    def on_post_page(self, output: str, *, page: Page, config: MkDocsConfig) -> str:
        """Put our page into the frame that mkdocs made around its marks."""
        ours = self._filled.get(page.file.url)
        if ours is None:
            return output
        with _told_to_mkdocs():
            return self._stage.fill(ours, output)

    @event_priority(-100)  # The search plugin must have written its index.
    def on_post_build(self, *, config: MkDocsConfig) -> None:
        pages = [(file.url, file.dest_uri) for file in self._files.documentation_pages()]
        with _told_to_mkdocs():
            self._stage.finish(hand_written=pages)
        self.stage = self._stage
        self._aside = None
        rest = self._content.rest
        if self._follow_up is not None and rest is not None and rest.left:
            _log.info("The pages about the whole stock follow in a few seconds.")
            self._follow_up.ask(rest.due)

    def on_build_error(self, *, error: Exception) -> None:
        if self._aside is not None:
            self._aside.give_back_all()
            self._aside = None

    def _frame(self, env: jinja2.Environment, config: MkDocsConfig, kind: str, depth: int) -> str:
        """Render the theme around a page that holds marks only."""
        path = "/".join([shell.FOLDER] * depth) if depth else "index"
        file = File.generated(config, f"{path}.md", content="")
        page = Page(shell.TITLE, file, config)
        page.content = shell.BODY
        page.toc = _skip_link()
        page.meta = {"description": shell.DESCRIPTION, "head": shell.HEAD, "kind": kind, "hide": _HIDDEN}
        context = get_context(self._nav, self._files, config, page)
        return env.get_template("main.html").render(context)

    def _maker(self) -> ContentMaker:
        if self.maker is not None:
            return self.maker
        if self._make is None or self._make[0] != self.config.content:
            self._make = self.config.content, _maker(self.config.content)
        return self._make[1]

    def _properties(self, config: MkDocsConfig) -> Path:
        return _beside_config(config, self.config.properties)

    def _settings(self, config: MkDocsConfig) -> Path:
        return _beside_config(config, self.config.config)


_HIDDEN = ["navigation", "toc"]
"""What the theme leaves out beside our pages: they need the width for their drawings and tables."""


def write_site(
    site: Path,
    older: Path | None,
    *,
    properties: Path,
    settings: Path,
    content: str = CONTENT,
    maker: ContentMaker | None = None,
    mkdocs_file: Path | None = None,
) -> Stage:
    """Write the engineers' site into a folder.

    Args:
        site: The folder, empty.
        older: A finished site whose unchanged files may be linked.
        properties: The folder of records.
        settings: The firm's settings; the file may be absent.
        content: Who makes the pages, as `module:function`.
        maker: Who makes the pages, in place of ``content``.
        mkdocs_file: Another mkdocs.yml than the one that comes with the package.

    Returns:
        The stage by which it was done.

    Raises:
        HearthbookError: it could not be built. `site` then holds parts.
    """
    with _quiet() as complaints:
        try:
            options = _options(properties, settings, content)
            config = load_config(
                str(mkdocs_file or _OWN_FILE), site_dir=str(site), strict=True, plugins=options
            )
            plugin = config.plugins["hearthbook"]
            if not isinstance(plugin, HearthbookPlugin):
                raise BuilderFailed(("mkdocs runs another plugin under the name `hearthbook`",))
            plugin.older = older
            plugin.maker = maker
            build(config)
        except MkDocsException as error:
            raise _cause_of(error) or BuilderFailed((*complaints, str(error))) from error
    if plugin.stage is None:
        raise BuilderFailed(tuple(complaints))
    return plugin.stage


def serve_site(
    *,
    properties: Path,
    settings: Path,
    address: str = "127.0.0.1:8000",
    content: str = CONTENT,
    mkdocs_file: Path | None = None,
) -> None:
    """Show the engineers' site on this machine, and again after each change of a record; ends when interrupted.

    Args:
        properties: The folder of records.
        settings: The firm's settings; the file may be absent.
        address: Host and port.
        content: Who makes the pages, as `module:function`.
        mkdocs_file: Another mkdocs.yml than the one that comes with the package.

    Raises:
        HearthbookError: the first build failed. Later ones say so and leave the site as it was.
    """
    told = logging.getLogger("mkdocs.plugins.hearthbook")
    told.setLevel(logging.INFO)
    told.addHandler(logging.StreamHandler())
    try:
        serve(
            str(mkdocs_file or _OWN_FILE), plugins=_options(properties, settings, content), dev_addr=address
        )
    except MkDocsException as error:
        raise _cause_of(error) or BuilderFailed((str(error),)) from error


_OWN_FILE = templates_dir() / "mkdocs.yml"


def _options(properties: Path, settings: Path, content: str) -> dict[str, Any]:
    # A mapping, not a list: mkdocs empties the entries of a list, and while it serves it reads them again.
    ours = {"properties": str(properties.resolve()), "config": str(settings.resolve()), "content": content}
    return {"search": {}, "hearthbook": ours}


def _beside_config(config: MkDocsConfig, written: str) -> Path:
    return Path(config.config_file_path or ".").resolve().parent / written


def _maker(name: str) -> ContentMaker:
    module, _, function = name.partition(":")
    try:
        named = getattr(import_module(module), function)
    except (ModuleNotFoundError, AttributeError, ValueError) as error:
        if isinstance(error, ModuleNotFoundError) and not f"{module}.".startswith(f"{error.name}."):
            raise  # The module is there and something that it needs is not: our own mistake.
        raise BuilderFailed((f"there is no `{name}` to make the pages",)) from error
    maker: ContentMaker = named() if isinstance(named, type) else named
    return maker


def _mark(place: Page, kind: str) -> None:
    """Make a hand-written page the frame of one of ours."""
    place.content = shell.BODY
    place.toc = _skip_link()
    # The navigation of every page, frames already made included, keeps the name that it has for this one.
    place.title = str(place.title)
    place.meta["title"] = shell.TITLE
    place.meta["description"] = shell.DESCRIPTION
    place.meta["head"] = shell.HEAD
    place.meta["kind"] = kind


def _skip_link() -> TableOfContents:
    """One entry that the theme makes its skip link of, and that is no table of contents."""
    return TableOfContents([AnchorLink("Content", "hb-content", 1)])


@contextmanager
def _told_to_mkdocs() -> Iterator[None]:
    try:
        yield
    except HearthbookError as error:
        raise PluginError(str(error)) from error


def _cause_of(error: BaseException) -> HearthbookError | None:
    """Find our own error under those that mkdocs wraps it in."""
    seen: BaseException | None = error
    while seen is not None and not isinstance(seen, HearthbookError):
        seen = seen.__cause__ or seen.__context__
    return seen


class _Keep(logging.Handler):
    def __init__(self) -> None:
        super().__init__(logging.WARNING)
        self.lines: list[str] = []

    def emit(self, record: logging.LogRecord) -> None:
        self.lines.append(record.getMessage())


@contextmanager
def _quiet() -> Iterator[list[str]]:
    """Keep what mkdocs complains of, for the one who asked; nothing of it is lost, since it fails a strict build."""
    logger, keep = logging.getLogger("mkdocs"), _Keep()
    propagate = logger.propagate
    logger.addHandler(keep)
    logger.propagate = False
    try:
        yield keep.lines
    finally:
        logger.removeHandler(keep)
        logger.propagate = propagate
