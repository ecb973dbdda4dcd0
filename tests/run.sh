#!/usr/bin/env bash
# All tests, from a bare machine with Python, venv, g++ and git: sets up what it needs, stops at the first failure.
# Safe to repeat: the environment (.venv-test) and the build tree (build/default) are used again.
set -euo pipefail
cd "$(dirname "$0")/.."

step() { printf '\n== %s\n' "$*"; }

install_doctest() {
  [ -e /usr/include/doctest/doctest.h ] && return
  if ! command -v apt-get >/dev/null; then
    echo "The C++ tests need doctest: install it with your package manager, then run this again." >&2
    exit 1
  fi
  local as_root=()
  [ "$(id -u)" -eq 0 ] || as_root=(sudo)
  "${as_root[@]}" apt-get update -qq
  "${as_root[@]}" apt-get install -y -qq doctest-dev
}

step "environment"
install_doctest
python3 -c 'import sys; sys.exit(sys.version_info < (3, 11))' || { echo "Python 3.11 or newer is needed." >&2; exit 1; }
[ -x .venv-test/bin/python ] || python3 -m venv .venv-test
export VIRTUAL_ENV="$PWD/.venv-test" PATH="$PWD/.venv-test/bin:$PATH"
python -m pip install --quiet --disable-pip-version-check cmake ninja cmeel-eigen boost-headers

step "C++ build, warnings as errors"
cmake --fresh --preset default -G Ninja
cmake --build --preset default

step "C++ tests"
ctest --preset default --output-on-failure --parallel "$(nproc)"

step "C++ example, built against an installed copy"
cmake --install build/default --component cpp --prefix build/installed >/dev/null
cmake --fresh -S cpp/examples -B build/examples -G Ninja -DCMAKE_PREFIX_PATH="$PWD/build/installed"
cmake --build build/examples
ctest --test-dir build/examples --output-on-failure

step "Python package"
python -m pip install --quiet --disable-pip-version-check '.[test]'

step "ruff"
python -m ruff check .

step "Python tests, published checks, repository checks, notebooks"
python -m pytest
