"""What ships is plain scripts that hand over what was put in."""

import base64
import gzip
import json
import re
from pathlib import Path

from hypothesis import given
from hypothesis import strategies as st

from baybook.runtime.payload import text_of, write_client, write_payload, zipped


@given(st.binary())
def test_text_and_zip_give_the_bytes_back(data: bytes) -> None:
    assert gzip.decompress(base64.b64decode(text_of(zipped(data)))) == data


def test_zipping_twice_gives_the_same_bytes() -> None:
    data = bytes(range(256)) * 100
    assert zipped(data) == zipped(data)
    assert zipped(data)[4:8] == b"\0\0\0\0"  # RFC 1952, 2.3: MTIME 0 is no time stamp


def test_a_payload_is_one_call_in_ascii(tmp_path: Path) -> None:
    files = {"one.txt": "ÄÖ\u2028</script>", "two.bin.gz": "H4sI"}
    write_payload(tmp_path, "parts", "0123", files)
    (script,) = tmp_path.iterdir()
    assert script.name == "parts.0123.js"
    text = script.read_bytes().decode("ascii")
    call = re.fullmatch(r"baybook\.payload\((.*)\);\n", text)
    assert call
    assert json.loads(f"[{call.group(1)}]") == ["parts", files]


def test_the_client_holds_the_build_and_both_workers(tmp_path: Path) -> None:
    client = tmp_path / "python.js"
    write_client(client, {"edition": "0123", "snapshotBytes": 5})
    text = client.read_text(encoding="utf-8")
    constants = re.search(r"const BUILD = (.*);\n", text)
    assert constants
    build = json.loads(constants.group(1))
    assert (build["edition"], build["snapshotBytes"]) == ("0123", 5)
    assert "DecompressionStream" in build["unpacker"]
    assert "loadPyodide" in build["worker"]
    assert text.endswith("}\n}\n")
