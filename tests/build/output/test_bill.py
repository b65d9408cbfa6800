"""The bill of materials is one of CycloneDX, the same for the same book."""

import json

from baybook.carried import Carried
from baybook.output.bill import bill_of_materials

CARRIED = [
    Carried("pyodide", "0.29.5", "MPL-2.0", "the browser's Python", "sha512-AAEC"),
    Carried("CPython", "3.13.2", "PSF-2.0", "part of pyodide", "sha512-AAEC"),
    Carried("@some/face", "5.3.0", "OFL-1.1", "the typeface of the book", "sha512-AAEC"),
]


def test_what_it_says() -> None:
    text = bill_of_materials(CARRIED, "A book", "0.1.0")
    bill = json.loads(text)
    assert (bill["bomFormat"], bill["specVersion"]) == ("CycloneDX", "1.6")
    by_name = {each["name"]: each for each in bill["components"]}
    assert by_name["pyodide"]["purl"] == "pkg:npm/pyodide@0.29.5"
    assert by_name["face"]["group"] == "@some"
    assert "purl" not in by_name["CPython"]
    assert by_name["CPython"]["licenses"] == [{"expression": "PSF-2.0"}]
    assert by_name["pyodide"]["hashes"] == [{"alg": "SHA-512", "content": "000102"}]
    assert bill["metadata"]["component"]["name"] == "A book"
    assert bill_of_materials(CARRIED, "A book", "0.1.0") == text
