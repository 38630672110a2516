#!/usr/bin/env bash
# Opens the workbooks of the demo jobs in LibreOffice, has it compute every formula, and fails on
# an error or on a result that is not the one stored. Installs LibreOffice where it is missing.
set -euo pipefail
cd "$(dirname "$0")/.."

if ! command -v soffice >/dev/null; then
  root=""
  if [ "$(id -u)" != 0 ]; then root="sudo"; fi
  $root apt-get update
  $root apt-get install --yes --no-install-recommends libreoffice-calc
fi

cargo test -p parge-tests --test suite libreoffice_computes -- --ignored --nocapture
