# Format and lint. Sourced by check.
# shellcheck shell=bash

check_format() {
    local files
    mapfile -t files < <(git ls-files '*.cpp' '*.hpp')
    clang-format-14 --dry-run -Werror "${files[@]}"
    echo "${#files[@]} files formatted as .clang-format says"
}

# A file is linted again only when it, a header or the rules changed: stamps lie in build/lint.
check_lint() {
    mkdir -p build/lint
    local rules todo=() file stamp
    rules=$(cat .clang-tidy $(git ls-files 'src/*.hpp' 'apps/*.hpp') | sha256sum | cut -c1-16)
    while read -r file; do
        stamp=build/lint/$(echo "$rules $(sha256sum "$file")" | sha256sum | cut -c1-32)
        [ -f "$stamp" ] || todo+=("$file $stamp")
    done < <(git ls-files 'src/*.cpp' 'apps/*.cpp')
    echo "${#todo[@]} files to lint"
    [ "${#todo[@]}" = 0 ] && return 0
    # A compile database in clang's own words; nothing is built there.
    cmake -S . -B build/lint-database -G Ninja -DCMAKE_CXX_COMPILER=clang++-14 -DSEATWRIGHT_TESTS=OFF \
        -DCMAKE_DISABLE_PRECOMPILE_HEADERS=ON >/dev/null
    printf '%s\n' "${todo[@]}" |
        xargs -P2 -L1 sh -c 'clang-tidy-14 --quiet -p build/lint-database "$0" 2>/dev/null && touch "$1"'
}
