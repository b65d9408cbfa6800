"""A site that lacks a page, or a file of its length, is not put in place of the old one."""

from pathlib import Path

import pytest

from baybook.output.whole import verify_whole


@pytest.fixture
def site(tmp_path: Path) -> Path:
    site = tmp_path / "site"
    (site / "fuse").mkdir(parents=True)
    (site / "index.html").write_text("home")
    (site / "fuse" / "index.html").write_text("a page in a folder of its own")
    (site / "python.js").write_text("12345")
    (tmp_path / "python.js").write_text("12345")
    return site


def test_a_whole_site_passes(site: Path) -> None:
    shipped = {"python.js": site.parent / "python.js"}
    verify_whole(site, ["index.md", "fuse.md"], shipped)


def test_a_page_that_is_missing_is_told(site: Path) -> None:
    with pytest.raises(OSError, match=r"a page was not written.*gauge\.md"):
        verify_whole(site, ["index.md", "gauge.md"], {})


@pytest.mark.parametrize("harm", [Path.unlink, lambda file: file.write_text("1234")])
def test_a_file_that_is_missing_or_cut_short_is_told(site: Path, harm: object) -> None:
    assert callable(harm)
    harm(site / "python.js")
    with pytest.raises(OSError, match="a file was not written whole"):
        verify_whole(site, [], {"python.js": site.parent / "python.js"})
