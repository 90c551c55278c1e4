"""The profiles that ship with templategen."""

import tomllib
from difflib import get_close_matches
from pathlib import Path

import templategen
from templategen.catalogue import worded
from templategen.errors import Fault, ProfileError


def shipped_folder() -> Path:
    """Where the profiles lie: inside the installed package, or beside it in a checkout."""
    package = Path(templategen.__file__).parent
    inside = package / "profiles"
    return inside if inside.is_dir() else package.parent / "profiles"


def shipped_names() -> list[str]:
    """The names of the shipped profiles."""
    return sorted(path.stem for path in shipped_folder().glob("*.toml"))


def shipped_text(name: str) -> str:
    """The text of the shipped profile `name`.

    Raises:
        ProfileError: there is none of that name.
    """
    stem = name.removesuffix(".toml")
    names = shipped_names()
    if stem not in names:
        near = get_close_matches(stem, names, 1, 0.4)
        tried = ", ".join(names)
        do = worded("did you mean {name}?", name=near[0]) if near else worded("try {names}", names=tried)
        raise ProfileError(Fault("--from", worded('no profile "{stem}" ships', stem=stem), do))
    return (shipped_folder() / f"{stem}.toml").read_text(encoding="utf-8")


def shipped_titles() -> list[tuple[str, str]]:
    """Each shipped profile with its title."""
    return [(name, tomllib.loads(shipped_text(name)).get("title", "")) for name in shipped_names()]
