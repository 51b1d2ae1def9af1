# Format and lint. Sourced by check.
# shellcheck shell=bash

check_format() {
    local files
    mapfile -t files < <(git ls-files '*.cpp' '*.hpp')
    clang-format-14 --dry-run -Werror "${files[@]}"
    echo "${#files[@]} files formatted as .clang-format says"
}

# lint_unit FILE: FILE is a source, or a unit that includes several (cmake/together.txt), since reading the libraries'
# headers is what takes the time. It is linted again only when it, what it includes, a header or the rules changed:
# stamps lie in build/lint. LINT_RULES is the digest of the last two.
lint_unit() {
    local stamp
    mapfile -t files < <(cd src && grep -oh '[^"]*\.cpp' "$1" | while read -r file; do
        for root in . ../apps; do [ ! -f "$root/$file" ] || echo "$root/$file"; done
    done)
    stamp=build/lint/$( (echo "$LINT_RULES" && cd src && cat "$1" "${files[@]}") | sha256sum | cut -c1-32)
    [ ! -f "$stamp" ] || return 0
    # What clang-tidy says on standard error is only how many warnings of others' headers it left out.
    clang-tidy-14 --quiet -p build/lint/database "$1" 2>"$stamp.said" || { cat "$stamp.said" >&2; return 1; }
    mv "$stamp.said" "$stamp"
}

check_lint() {
    mkdir -p build/lint
    # A compile database in clang's own words, a line for each unit; nothing is built there.
    cmake -S . -B build/lint/database -G Ninja -DCMAKE_CXX_COMPILER=clang++-14 -DSEATWRIGHT_TESTS=OFF \
        -DCMAKE_DISABLE_PRECOMPILE_HEADERS=ON >/dev/null
    LINT_RULES=$(git ls-files .clang-tidy scripts/lint.sh 'src/*.hpp' 'apps/*.hpp' | xargs cat | sha256sum)
    export LINT_RULES
    export -f lint_unit
    grep -oE '"file": "[^"]*\.cpp"' build/lint/database/compile_commands.json | cut -d'"' -f4 |
        xargs -P2 -I{} bash -c 'lint_unit {} || { echo "lint: {} is at fault" >&2; exit 1; }'
    echo "lint found nothing"
}
