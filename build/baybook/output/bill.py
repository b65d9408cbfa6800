"""The bill of materials of a book, in the form of CycloneDX, made by its own library."""

import base64
from collections.abc import Iterable
from datetime import UTC, datetime
from uuid import NAMESPACE_URL, uuid5

from cyclonedx.model import HashAlgorithm, HashType
from cyclonedx.model.bom import Bom
from cyclonedx.model.component import Component, ComponentType
from cyclonedx.model.license import LicenseExpression
from cyclonedx.output.json import JsonV1Dot6
from packageurl import PackageURL

from baybook.carried import Carried

_NO_TIME = datetime(2000, 1, 1, tzinfo=UTC)
"""The same book gives the same bill."""


def bill_of_materials(carried: Iterable[Carried], book: str, release: str) -> str:
    """Write the bill of a book as JSON.

    Parameters
    ----------
    carried : Iterable[Carried]
        What the book holds of others.
    book : str
        Name of the book.
    release : str
        Version of the program that builds it.
    """
    components = [_component(each) for each in carried]
    bom = Bom(components=components, serial_number=uuid5(NAMESPACE_URL, f"baybook:{book}"))
    bom.metadata.timestamp = _NO_TIME
    bom.metadata.component = Component(
        name=book, type=ComponentType.APPLICATION, bom_ref="the book"
    )
    bom.register_dependency(bom.metadata.component, components)
    bom.metadata.tools.components.add(
        Component(
            name="baybook", version=release, type=ComponentType.APPLICATION, bom_ref="baybook"
        )
    )
    return str(JsonV1Dot6(bom).output_as_string(indent=2)) + "\n"


def _component(each: Carried) -> Component:
    group, _, name = each.name.rpartition("/")
    algorithm, _, digest = each.integrity.partition("-")
    assert algorithm == "sha512"
    package = None
    if each.purpose != "part of pyodide":
        package = PackageURL("npm", group or None, name, each.version)
    return Component(
        name=name,
        group=group or None,
        version=each.version,
        type=ComponentType.LIBRARY,
        description=each.purpose,
        licenses=[LicenseExpression(each.licence)],
        hashes=[HashType(alg=HashAlgorithm.SHA_512, content=base64.b64decode(digest).hex())],
        purl=package,
        bom_ref=f"{each.name}@{each.version}",
    )
