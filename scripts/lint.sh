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

# check_lint [ONE_IN]: every unit; or those in which something is not as it was five commits ago, and of the others those
# that this commit draws, one in so many. What the compiler itself warns of is an error in all of them, every time.
check_lint() {
    local one_in=${1:-1} commit
    commit=$(git rev-parse HEAD)
    mkdir -p build/lint
    # A compile database in clang's own words, a line for each unit; nothing is built there.
    cmake -S . -B build/lint/database -G Ninja -DCMAKE_CXX_COMPILER=clang++-14 -DSEATWRIGHT_TESTS=OFF \
        -DCMAKE_DISABLE_PRECOMPILE_HEADERS=ON >/dev/null
    LINT_RULES=$(git ls-files .clang-tidy scripts/lint.sh 'src/*.hpp' 'apps/*.hpp' | xargs cat | sha256sum)
    export LINT_RULES
    export -f lint_unit
    grep -oE '"file": "[^"]*\.cpp"' build/lint/database/compile_commands.json | cut -d'"' -f4 | sort >build/lint/all
    { drawn_units "$commit" "$one_in"; [ "$one_in" = 1 ] || changed_units "$commit~5"; } | sort -u >build/lint/drawn
    xargs -a build/lint/drawn -P2 -I{} bash -c 'lint_unit {} || { echo "lint: {} is at fault" >&2; exit 1; }'
    echo "lint found nothing in $(wc -l <build/lint/drawn) of $(wc -l <build/lint/all) units"
}

# drawn_units COMMIT ONE_IN: of the units in build/lint/all those whose name's digest, with the commit's, is even over
# ONE_IN.
drawn_units() {
    local unit digest
    while read -r unit; do
        digest=$(echo "$1 ${unit##*/}" | sha256sum)
        [ $((16#${digest:0:7} % $2)) != 0 ] || echo "$unit"
    done <build/lint/all
}

# changed_units COMMIT: those with a source that is another one than in that commit, where there is that commit.
changed_units() {
    local source
    if ! git cat-file -e "$1" 2>/dev/null; then
        echo "lint: five commits back is not here: only what the commit draws is read" >&2
        return 0
    fi
    { git diff --name-only "$1" -- 'src/*.cpp' 'apps/*.cpp'
      git ls-files --others --exclude-standard -- 'src/*.cpp' 'apps/*.cpp'; } | while read -r source; do
        xargs -a build/lint/all grep -lF "\"${source#*/}\"" || true  # in a unit by its path below src or apps
        grep -F "/$source" build/lint/all || true                    # or by itself
    done
}
