#!/usr/bin/env bash
# The take-off of 100,000 faces by Parge, by a Python script over openpyxl, and by LibreOffice
# recalculating a workbook, one after another, with time and peak memory side by side.
#
#   bash tests/peers.sh                      the whole comparison, the median of three runs each
#   FACES=1000 RUNS=1 bash tests/peers.sh    a quick look
#
# It puts openpyxl into an environment of its own under target/, and needs Python 3 with venv, and
# LibreOffice (on Debian: apt-get install python3-venv libreoffice-calc). Whatever of them lacks is
# said, and left out of the table. Nothing else should run on the machine meanwhile.
set -euo pipefail
cd "$(dirname "$0")/.."

faces="${FACES:-100000}"
runs="${RUNS:-3}"
target="${CARGO_TARGET_DIR:-target}"
work="$target/peers"
mkdir -p "$work"

if ! python3 -c "import venv, ensurepip" 2>/dev/null; then
  echo "Python 3 with venv is missing: apt-get install python3-venv" >&2
  exit 1
fi
python="$work/venv/bin/python"
if [ ! -x "$python" ]; then
  python3 -m venv "$work/venv"
fi
if ! "$python" -c "import openpyxl" 2>/dev/null; then
  "$python" -m pip install --quiet openpyxl || {
    echo "openpyxl cannot be installed, and without it there is no sheet for the others" >&2
    exit 1
  }
fi
if ! command -v soffice >/dev/null; then
  echo "LibreOffice is missing and is left out: apt-get install libreoffice-calc" >&2
fi

cargo build --release -p parge-cli
cargo run --release --example make_plan -p parge-benches -- "$faces" >"$work/plan.parge"
cp examples/alder-marsh/prices.csv "$work/prices.csv"
"$python" tests/peers.py compare --parge "$target/release/parge" --work "$work" --runs "$runs"
