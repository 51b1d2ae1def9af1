# The workbench's pages: built into web/dist when their sources have changed, then embedded in the binary.
# shellcheck shell=bash

# Any node from 18 on will do; Debian's own is taken when there is none.
install_node() {
    if ! command -v node >/dev/null || ! command -v npm >/dev/null; then install_missing nodejs npm; fi
}

front_end_state() {
    find web -path web/node_modules -prune -o -path web/dist -prune -o -type f -print0 | sort -z |
        xargs -0 sha256sum | sha256sum | cut -d' ' -f1
}

build_front_end() {
    [ -f web/package.json ] || return 0
    local now
    now=$(front_end_state)
    if [ -f web/dist/index.html ] && [ "$(cat web/dist/.state 2>/dev/null)" = "$now" ]; then return 0; fi
    install_node
    echo "building the workbench's pages"
    (cd web && npm ci --ignore-scripts --no-audit --no-fund --silent && npm run --silent build)
    echo "$now" >web/dist/.state
}
