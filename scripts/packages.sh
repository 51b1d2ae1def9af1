# What Debian 12 must have. Sourced by run and check; installs only what is missing.
# shellcheck shell=bash

build_packages=(g++ cmake ninja-build ccache pkg-config lld libeigen3-dev libboost-dev
    nlohmann-json3-dev libcli11-dev libfmt-dev libexpected-dev coinor-libclp-dev librsvg2-dev fonts-dejavu-core
    libsoci-dev libsqlite3-dev libpq-dev libspdlog-dev libssl-dev libsodium-dev libbrotli-dev zlib1g-dev
    libicu-dev libqrencode-dev libcrack2-dev cracklib-runtime libpugixml-dev libjemalloc-dev)
# A compiler that takes little more than half the time; where it is not to be had the first one does.
quicker_packages=(clang-14)
check_packages=(libgtest-dev libcpp-httplib-dev libvalijson-dev libtomlplusplus-dev librapidcheck-dev librandom123-dev libbenchmark-dev libcgal-dev libglpk-dev libcminpack-dev clang-format-14 clang-tidy-14
    libclang-rt-14-dev poppler-utils libxml2-utils libnss3-tools libzbar-dev sqlite3 strace chromium libpython3.11 python3-ezdxf python3-prometheus-client
    libtirpc3 libedit2 libexpat1 libgssapi-krb5-2 # what the outside interpreter of programs rests on
    postgresql-15)

# Other programs that work out the same, for the benches and ./check --all.
peer_packages=(python3-numpy python3-openturns)

# The other browser, for ./check --all: its driver, a screen nobody sees, and what gives it names and a root of its own.
webkit_packages=(webkit2gtk-driver xvfb bubblewrap)

as_root() {
    if [ "$(id -u)" = 0 ]; then "$@"; else sudo "$@"; fi
}

# The tests make a database server of their own; the package is not to make and start one for the machine.
no_main_cluster() {
    local file=/etc/postgresql-common/createcluster.d/no-main-cluster.conf
    [ -e "$file" ] && return 0
    as_root mkdir -p "${file%/*}"
    echo "create_main_cluster = false" | as_root tee "$file" >/dev/null
}

# install_missing NAME…: apt-get only when something is missing, so that a second call is quick.
install_missing() {
    local missing=() name
    for name in "$@"; do
        dpkg-query -W -f='${Status}' "$name" 2>/dev/null | grep -q '^install ok installed$' || missing+=("$name")
    done
    [ "${#missing[@]}" = 0 ] && return 0
    echo "installing ${missing[*]}"
    [[ " ${missing[*]} " != *" postgresql-15 "* ]] || no_main_cluster
    as_root apt-get update -qq
    as_root env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends "${missing[@]}" >/dev/null
}
