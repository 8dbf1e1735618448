"""The wheel that is shipped: everything that leaflets are made of inside it, and nothing else."""

import os
import shutil
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

TOP = Path(__file__).parents[1]
TEXTS = ("templates", "locales")


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> dict[str, bytes]:
    """Build a wheel without a network, and return the files in it."""
    folder = tmp_path_factory.mktemp("wheel")
    command = [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(folder)]
    built = subprocess.run(command, cwd=TOP, capture_output=True, text=True, check=False)
    assert built.returncode == 0, built.stderr
    (path,) = folder.glob("*.whl")
    with zipfile.ZipFile(path) as archive:
        assert archive.testzip() is None
        return {name: archive.read(name) for name in archive.namelist() if ".dist-info/" not in name}


def _files(folder: Path) -> dict[str, bytes]:
    return {
        path.relative_to(TOP).as_posix(): path.read_bytes()
        for path in folder.rglob("*")
        if path.is_file() and "__pycache__" not in path.parts and not path.name.startswith(".")
    }


def test_everything_lies_inside_the_package(wheel: dict[str, bytes]) -> None:
    assert {name.split("/")[0] for name in wheel} == {"leaflets"}


@pytest.mark.parametrize("folder", TEXTS)
def test_words_lie_in_the_package_as_they_stand(folder: str, wheel: dict[str, bytes]) -> None:
    expected = {f"leaflets/{name}": body for name, body in _files(TOP / folder).items()}
    inside = {name: body for name, body in wheel.items() if name.startswith(f"leaflets/{folder}/")}
    assert expected
    assert inside == expected
    assert not [name for name in inside if name.endswith(".py")]


def test_code_rules_and_demonstration_lie_in_it_as_they_stand(wheel: dict[str, bytes]) -> None:
    fonts = "leaflets/render/fonts/"
    expected = {name: body for name, body in _files(TOP / "leaflets").items() if not name.startswith(fonts)}
    inside = {
        name: body
        for name, body in wheel.items()
        if not name.startswith((fonts, *(f"leaflets/{folder}/" for folder in TEXTS)))
    }
    assert inside == expected
    for name in ("leaflets/rules/numbers.toml", "leaflets/demo/clinic/clinic.toml", "leaflets/demo/new-clinic.toml"):
        assert name in inside
    assert "leaflets/py.typed" in inside
    assert len([name for name in inside if name.startswith("leaflets/demo/visits/")]) >= 10


def test_fonts_lie_in_it_with_their_licence(wheel: dict[str, bytes]) -> None:
    folder = TOP / "leaflets" / "render" / "fonts"
    if not list(folder.glob("*.ttf")):
        pytest.skip("the fonts were not copied from the system's package yet: make setup")
    inside = {Path(name).name for name in wheel if name.startswith("leaflets/render/fonts/")}
    assert {path.name for path in folder.glob("*.ttf")} <= inside
    assert [name for name in inside if "licen" in name.lower() or "copyright" in name.lower() or name == "OFL.txt"]


def test_no_copy_lies_beside_the_texts_of_a_checkout() -> None:
    """A copy inside the package would be read instead of the files that people write in."""
    for folder in TEXTS:
        assert not (TOP / "leaflets" / folder).exists()


def test_the_wheel_makes_a_leaflet_without_the_checkout(wheel: dict[str, bytes], tmp_path: Path) -> None:
    """Unpacked elsewhere, with this environment's libraries, and nothing of the checkout on its path."""
    for name, body in wheel.items():
        path = tmp_path / "site" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(body)
    if not list((tmp_path / "site" / "leaflets" / "render" / "fonts").glob("*.ttf")):
        pytest.skip("the fonts were not copied from the system's package yet: make setup")
    shutil.copy(TOP / "tests" / "visits" / "routine.toml", tmp_path)
    code = (
        "import leaflets, pathlib, sys; assert leaflets.__file__.startswith(sys.argv[1]), leaflets.__file__; "
        "print(leaflets.make('routine.toml', out=pathlib.Path('out')).status)"
    )
    told = subprocess.run(
        [sys.executable, "-c", code, str(tmp_path)],
        cwd=tmp_path,
        env={**os.environ, "PYTHONPATH": str(tmp_path / "site")},
        capture_output=True,
        text=True,
        check=False,
    )
    assert told.returncode == 0, told.stderr
    assert told.stdout == "ok\n"
    assert len(list((tmp_path / "out").iterdir())) == 2
