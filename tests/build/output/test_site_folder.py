"""Nothing of the user's is emptied: a site folder is refused unless a build may replace it."""

from pathlib import Path

import pytest

from baybook.output.site_folder import MARK, SiteRefused, foreign_files, mark, refuse_site


@pytest.fixture
def home(tmp_path: Path) -> Path:
    """A book with its sources, and a built site."""
    for name in ("procedures/air.md", "docs/index.md", "site/index.html", "site/assets/a.js"):
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_text("x")
    mark(tmp_path / "site")
    return tmp_path


def refuse(home: Path, site: Path) -> str:
    own = {"sources": home / "procedures", "pages written by hand": home / "docs"}
    try:
        refuse_site(site, own, home)
    except SiteRefused as refused:
        return str(refused).splitlines()[0].replace(str(home), "HOME")
    return ""


@pytest.mark.parametrize(
    ("site", "said"),
    [
        ("procedures", "is the folder of the sources"),
        ("procedures/site", "lies in the folder of the sources"),
        ("docs", "is the folder of the pages written by hand"),
        ("docs/../procedures/a/b", "lies in the folder of the sources"),
        (".", "holds the folder of the sources"),
        ("..", "holds the folder of the sources"),
    ],
)
def test_a_folder_of_the_user_is_refused(home: Path, site: str, said: str) -> None:
    assert refuse(home, home / site).endswith(f", which {said}")


def test_the_folder_of_the_configuration_is_refused_but_may_hold_the_site(home: Path) -> None:
    sources = {"sources": home.parent / "elsewhere"}
    with pytest.raises(SiteRefused, match="which is the folder of the configuration"):
        refuse_site(home, sources, home)
    refuse_site(home / "site", sources, home)


def test_a_link_to_a_folder_of_the_user_is_refused(home: Path) -> None:
    (home / "elsewhere").symlink_to(home / "procedures")
    assert "is the folder of the sources" in refuse(home, home / "elsewhere")


def test_new_empty_and_built_folders_serve(home: Path) -> None:
    (home / "empty").mkdir()
    for name in ("new", "empty", "site", "new/deep"):
        assert refuse(home, home / name) == ""


def test_a_file_is_refused(home: Path) -> None:
    site = home / "docs" / ".." / "report.odt"
    site.write_text("x")
    assert refuse(home, site) == (
        "expected a folder for the site, got the file HOME/docs/../report.odt"
    )


def test_a_folder_without_the_mark_is_refused_with_what_is_in_it(home: Path) -> None:
    victim = home / "victim"
    victim.mkdir()
    (victim / "thesis.odt").write_text("x")
    assert refuse(home, victim) == (
        "expected an empty folder or a built book for the site, got HOME/victim, "
        "which holds something that no build wrote: thesis.odt"
    )
    for name in "abc":
        (victim / name).mkdir()
    assert refuse(home, victim).endswith(
        "which holds 4 files or folders that no build wrote: a, b, c, ..."
    )


def test_what_came_into_a_built_book_is_found(home: Path) -> None:
    site = home / "site"
    (site / "assets" / "notes.docx").write_text("x")
    (site / "linked").symlink_to(home / "docs")
    assert foreign_files(site) == ["assets/notes.docx", "linked"]
    assert "assets/notes.docx, linked" in refuse(home, site)


def test_a_damaged_mark_is_none(home: Path) -> None:
    (home / "site" / MARK).write_bytes(b"\xff\xfe")
    assert foreign_files(home / "site") == [MARK, "assets", "index.html"]
