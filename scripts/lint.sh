# Format and lint. Sourced by check.
# shellcheck shell=bash

check_format() {
    local files
    mapfile -t files < <(git ls-files '*.cpp' '*.hpp')
    clang-format-14 --dry-run -Werror "${files[@]}"
    echo "${#files[@]} files formatted as .clang-format says"
}

check_lint() {
    node scripts/lint.mjs
}
