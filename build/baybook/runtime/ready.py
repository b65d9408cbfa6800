"""Makes the edition that the wheel carries: ``python -m baybook.runtime.ready FOLDER CACHE``."""

import json
import shutil
import sys
from pathlib import Path

from baybook.book.pint_quantities import unit_table_data
from baybook.runtime.bundle import RuntimeFiles, input_key, installed_calculators, runtime_files
from baybook.runtime.errors import RuntimeBuildError


def make_ready(folder: Path, cache: Path) -> RuntimeFiles:
    """Put the edition of what is installed here into a folder, below its own name.

    Parameters
    ----------
    folder : Path
        Folder that the wheel takes in; what was in it goes.
    cache : Path
        Folder that keeps finished builds and the npm packages.

    Returns
    -------
    RuntimeFiles
        The files.

    Raises
    ------
    RuntimeBuildError
        When Node or a package is missing, or a step fails.
    """
    units = json.dumps(unit_table_data())
    edition = input_key(installed_calculators(), units)
    shutil.rmtree(folder, ignore_errors=True)
    made = runtime_files(cache, units)
    shutil.copytree(made.client.parent, folder / edition)
    return made


if __name__ == "__main__":
    try:
        make_ready(Path(sys.argv[1]).resolve(), Path(sys.argv[2]).resolve())
    except RuntimeBuildError as error:
        sys.exit(f"baybook: {error}")
