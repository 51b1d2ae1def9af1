# Format and lint. Sourced by check.
# shellcheck shell=bash

check_format() {
    local files
    mapfile -t files < <(git ls-files '*.cpp' '*.hpp')
    clang-format-14 --dry-run -Werror "${files[@]}"
    echo "${#files[@]} files formatted as .clang-format says"
}

# lint_unit NAME COMMAND FILE…: prints the path of a source that includes as many of FILE… as go into one, and the
# FILE… left over because a name of theirs (in an unnamed namespace) stands in an earlier one too.
lint_unit() {
    local unit=$PWD/build/lint/$1.cpp command=$2
    shift 2
    printf "#include \"$PWD/%s\"\n" "$@" >"$unit"
    local clashing
    clashing=$(eval "$command -fsyntax-only -w -ferror-limit=0 $unit" 2>&1 |
        sed -nE "s|^$PWD/([^:]*\.cpp):[0-9]+:[0-9]+: error: .*|\1|p" | sort -u)
    local file
    for file in $clashing; do sed -i "\|/$file\"|d" "$unit"; done
    echo "$unit" $clashing
}

# lint_folder FOLDER: its sources, read together, since reading the libraries' headers is what takes the time. A
# folder is linted again only when it, a header or the rules changed: stamps lie in build/lint.
lint_folder() {
    local folder=$1 name=${1//\//_} files stamp command round=0 found=no
    mapfile -t files < <(git ls-files ":(glob)$folder/*.cpp")
    stamp=build/lint/$(cat .clang-tidy scripts/lint.sh $(git ls-files 'src/*.hpp' 'apps/*.hpp') "${files[@]}" |
        sha256sum | cut -c1-32)
    [ -f "$stamp" ] && return 0
    command=$(sed -nE "s|^ *\"command\": \".*ccache ||; s|^ *\"command\": \"||; s| -o [^ ]*\.o -c [^ ]*/${files[0]}\",?$||p" \
        build/lint/database/compile_commands.json | sed 's/\\"/"/g')
    [ -n "$command" ] || { echo "lint: no way to compile ${files[0]} in the database" >&2; return 1; }
    while [ "${#files[@]}" -gt 0 ]; do
        read -r -a files < <(lint_unit "$name-$round" "$command" "${files[@]}")
        if ! grep -q . "${files[0]}"; then
            eval "$command -fsyntax-only ${files[*]:1}"
            echo "lint: ${files[*]:1} do not compile" >&2
            return 1
        fi
        # What clang-tidy says on standard error is only how many warnings of others' headers it left out.
        eval "clang-tidy-14 --quiet ${files[0]} -- ${command#* }" 2>/dev/null || found=yes
        files=("${files[@]:1}")
        round=$((round + 1))
    done
    [ "$found" = no ] && touch "$stamp"
}

check_lint() {
    mkdir -p build/lint
    # A compile database in clang's own words, a line for each source; nothing is built there.
    cmake -S . -B build/lint/database -G Ninja -DCMAKE_CXX_COMPILER=clang++-14 -DSEATWRIGHT_TESTS=OFF \
        -DCMAKE_DISABLE_PRECOMPILE_HEADERS=ON -DSEATWRIGHT_BATCH=1 >/dev/null
    export -f lint_unit lint_folder
    git ls-files 'src/*.cpp' 'apps/*.cpp' | sed 's|/[^/]*$||' | sort -u |
        xargs -P2 -I{} bash -c 'lint_folder {} || { echo "lint: {} is at fault" >&2; exit 1; }'
    echo "lint found nothing"
}
