#!/usr/bin/env bash
# kernel_symbols.sh BASE_OBJECT OTHER_OBJECT
# The linker keeps one of two weak functions of the same name. If both objects held one, a machine without AVX2 or AVX-512
# could be sent into such code, or a machine with it lose its speed. Code that runs at start-up is not chosen at all, so it
# must do without vector registers.
set -euo pipefail

names() { nm --defined-only "$1" | awk -v kinds="$2" '$2 ~ kinds {print $3}' | sort; }

for object in "$1" "$2"; do
  [ -n "$(names "$object" '^T$')" ] || { echo "no function to call in $object"; exit 1; }
done
merged=$(comm -12 <(names "$1" '^[A-Z]$|u') <(names "$2" '^[WVu]$'))
[ -z "$merged" ] || { echo "in both objects, and mergeable:"; c++filt <<<"$merged"; exit 1; }
if objdump --disassemble --section=.text.startup "$2" 2>/dev/null | grep -E '%[xyz]mm'; then
  echo "the second object uses vector registers at start-up"
  exit 1
fi
