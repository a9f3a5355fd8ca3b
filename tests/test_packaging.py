"""The wheel works on its own, outside the checkout."""

from __future__ import annotations

import os
import subprocess
import sys
import tomllib
import urllib.request
import venv
import zipfile
from pathlib import Path

import pytest

from tests.booklet import booklet

ROOT = Path(__file__).parent.parent


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    out = tmp_path_factory.mktemp("wheel")
    copy = tmp_path_factory.mktemp("tree") / "slopewise"
    subprocess.run(["git", "-C", ROOT, "checkout-index", "-a", f"--prefix={copy}/"], check=True)
    subprocess.run(
        [sys.executable, "-m", "build", "--wheel", "--outdir", out, copy],
        check=True,
        capture_output=True,
    )
    (found,) = out.glob("slopewise-*.whl")
    return found


def test_the_wheel_carries_the_grammar_inside_the_package_only(wheel: Path) -> None:
    names = zipfile.ZipFile(wheel).namelist()
    assert "rewriter/grammar/clause.lark" in names
    assert "rewriter/grammar/lexicon.toml" in names
    assert not [n for n in names if n.startswith("grammar/")]
    assert "rewriter/py.typed" in names
    for asset in ("app.css", "app.js", "icon.svg", "literata.woff2", "literata-OFL.txt"):
        assert f"rewriter/web/static/{asset}" in names


def test_an_installed_wheel_rewrites_a_draft(wheel: Path, tmp_path: Path) -> None:
    env = tmp_path / "env"
    venv.create(env)
    # the pip that is here installs into the new environment; byte code comes with the first run, and stays
    kept = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}
    pip: list[str | Path] = [
        sys.executable,
        "-m",
        "pip",
        "--python",
        env / "bin" / "python",
        "install",
        "--no-compile",
    ]
    subprocess.run(
        [*pip, "--quiet", "--disable-pip-version-check", wheel], check=True, cwd=tmp_path
    )
    draft = tmp_path / "draft.txt"
    draft.write_text(
        "BACK\nWork until armholes measure 20 cm, ending with a WS row.\n"
        "Shape shoulders\nCast off 8 sts at beg of next 4 rows.\nCast off rem 20 sts.\n"
    )
    done = subprocess.run(
        [env / "bin" / "slopewise", "rewrite", draft],
        cwd=tmp_path,
        env=kept,
        capture_output=True,
        text=True,
        check=True,
    )
    assert "ending with a RS row" in done.stdout
    assert "to last 8 sts" in done.stdout
    command = str(env / "bin" / "slopewise")
    page = tmp_path / "page.html"
    subprocess.run(
        [command, "rewrite", draft, "--redline", page], check=True, capture_output=True, env=kept
    )
    assert "<style>" in page.read_text(encoding="utf-8")
    serve = [command, "serve", "--no-browser"]
    with subprocess.Popen(
        serve, cwd=tmp_path, env=kept, stdout=subprocess.PIPE, text=True
    ) as server:
        assert server.stdout is not None
        url = server.stdout.readline().split()[-1]
        with urllib.request.urlopen(f"{url}static/app.js", timeout=30) as answer:
            assert answer.status == 200
        server.terminate()
    document = tmp_path / "draft.docx"
    document.write_bytes(booklet())
    refused = subprocess.run(
        [command, "rewrite", document, "-o", tmp_path / "out.docx"],
        env=kept,
        capture_output=True,
        text=True,
        check=False,
    )
    assert refused.returncode == 2
    assert "pip install 'slopewise[docx]'" in refused.stderr


def test_the_list_of_packages_is_complete() -> None:
    config = tomllib.loads((ROOT / "pyproject.toml").read_text())
    listed = set(config["tool"]["setuptools"]["packages"])
    on_disk = {
        ".".join(p.parent.relative_to(ROOT).parts) for p in (ROOT / "rewriter").rglob("__init__.py")
    }
    assert listed == on_disk | {"rewriter.grammar"}
