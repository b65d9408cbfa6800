"""What ships is plain scripts that hand over what was put in."""

import base64
import gzip
import json
import re
from pathlib import Path

from hypothesis import given
from hypothesis import strategies as st

from baybook.runtime.payload import text_of, write_client, write_payload, write_workers, zipped


@given(st.binary())
def test_text_and_zip_give_the_bytes_back(data: bytes) -> None:
    assert gzip.decompress(base64.b64decode(text_of(zipped(data)))) == data


def test_zipping_twice_gives_the_same_bytes() -> None:
    data = bytes(range(256)) * 100
    assert zipped(data) == zipped(data)
    assert zipped(data)[4:8] == b"\0\0\0\0"  # RFC 1952, 2.3: MTIME 0 is no time stamp


def test_a_payload_is_files_and_one_call_in_ascii(tmp_path: Path) -> None:
    files = {"one.txt": "ÄÖ\u2028</script>".encode(), "two.bin.gz": b"\x1f\x8b\xff"}
    write_payload(tmp_path, "parts", "0123", files)
    assert (tmp_path / "one.txt.0123.bin").read_bytes() == files["one.txt"]
    assert (tmp_path / "two.bin.gz.0123.bin").read_bytes() == files["two.bin.gz"]
    text = (tmp_path / "parts.0123.js").read_bytes().decode("ascii")
    call = re.fullmatch(r"baybook\.payload\((.*)\);\n", text)
    assert call
    name, carried = json.loads(f"[{call.group(1)}]")
    assert name == "parts"
    assert {file: base64.b64decode(text) for file, text in carried.items()} == files


def test_the_workers_are_scripts_of_their_own(tmp_path: Path) -> None:
    write_workers(tmp_path, "0123", "const engine = 1;")
    python = (tmp_path / "worker.0123.js").read_text("utf-8")
    assert python.startswith("const engine = 1;\n")
    assert "loadPyodide" in python
    assert "DecompressionStream" in (tmp_path / "unpacker.0123.js").read_text("utf-8")
    assert (tmp_path / "workers.0123.js").read_text("ascii").startswith("baybook.payload(")


def test_the_client_holds_what_it_must_know_of_the_build(tmp_path: Path) -> None:
    client = tmp_path / "python.js"
    write_client(client, {"edition": "0123", "snapshotBytes": 5})
    text = client.read_text(encoding="utf-8")
    constants = re.search(r"const BUILD = (.*);\n", text)
    assert constants
    assert json.loads(constants.group(1)) == {"edition": "0123", "snapshotBytes": 5}
    assert text.endswith("}\n}\n")
