"""The catalogues hold what the code says, and nothing else."""

import subprocess
from pathlib import Path

import pytest
from django.utils import translation
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from shared.management.commands.messages import differences

HEADER = (
    'msgid ""\nmsgstr ""\n"Language: en_US\\n"\n'
    '"Content-Type: text/plain; charset=UTF-8\\n"\n'
    '"Plural-Forms: nplurals=2; plural=(n != 1);\\n"\n'
)
GREY = '\n#: a.py\nmsgid "grey"\nmsgstr "gray"\n'
ROSE = '\n#: a.py\nmsgid "rose"\nmsgstr ""\n'


def written(folder: Path, *entries: str, compiled: tuple[str, ...] | None = None) -> Path:
    folder.mkdir()
    catalogue = folder / "django.po"
    catalogue.write_text("".join((HEADER, *(entries if compiled is None else compiled))))
    subprocess.run(["msgfmt", "-o", folder / "django.mo", catalogue], check=True)
    catalogue.write_text("".join((HEADER, *entries)))
    return catalogue


@pytest.mark.parametrize(
    ("entries", "compiled", "found"),
    [
        ((GREY, ROSE), None, ""),
        ((ROSE, GREY.replace("a.py", "b.py")), None, ""),
        ((GREY,), None, "this message is missing:\nmsgid \"rose\""),
        ((GREY, ROSE, ROSE.replace("rose", "navy")), None, "no such message in the code"),
        ((GREY.replace("#: a.py", "#, fuzzy"), ROSE), None, "nobody has looked at"),
        ((GREY, ROSE), (GREY.replace("gray", "grey"), ROSE), "is not what its .po says"),
    ],
)  # fmt: skip
def test_what_a_catalogue_has_otherwise_is_named(
    tmp_path: Path, entries: tuple[str, ...], compiled: tuple[str, ...] | None, found: str
) -> None:
    kept = written(tmp_path / "kept", *entries, compiled=compiled)
    renewed = written(tmp_path / "renewed", GREY, ROSE)

    wrong = "\n".join(differences(kept, renewed))

    assert found in wrong
    assert bool(wrong) == bool(found)


def test_a_catalogue_that_was_never_compiled_is_named(tmp_path: Path) -> None:
    kept = written(tmp_path / "kept", GREY)
    kept.with_suffix(".mo").unlink()

    assert "is not what its .po says" in differences(kept, written(tmp_path / "renewed", GREY))[0]


def test_americans_read_what_they_say_otherwise_and_the_rest_as_it_stands() -> None:
    with translation.override("en-us"):
        assert _("Fibres refused") == "Fibers refused"
        assert _("Only an organiser may do this.") == "Only an organizer may do this."
        assert _("Your role in this circle does not allow this.").endswith("allow this.")
        text = ngettext(
            "%(number)s ridge of two rows: tick its box",
            "%(number)s ridges of two rows: tick a box for each",
            2,
        )
        assert text == "%(number)s ridges of two rows: check a box for each"
    assert _("Fibres refused") == "Fibres refused"
