#!/usr/bin/env bash
# kernel_symbols.sh BASE_OBJECT AVX2_OBJECT
# The linker keeps one of two weak functions of the same name. If both objects held one, a machine without AVX2 could
# be sent into AVX2 code, or a machine with it lose its speed. Code that runs at start-up would not be chosen at all.
set -euo pipefail

for object in "$1" "$2"; do
  nm --defined-only "$object" | grep -q 'run_cycle' || { echo "no run_cycle in $object"; exit 1; }
done
shared=$(comm -12 <(nm --defined-only "$1" | awk '{print $3}' | sort) <(nm --defined-only "$2" | awk '{print $3}' | sort) |
  while read -r name; do nm --defined-only "$2" | grep -E " [WVu] $name\$" || true; done)
[ -z "$shared" ] || { echo "in both objects and mergeable:"; c++filt <<<"$shared"; exit 1; }
if objdump -h "$2" | grep -E '\.(init_array|ctors)'; then
  echo "the AVX2 object runs code at start-up"
  exit 1
fi
