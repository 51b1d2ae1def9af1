# How every part of the house is built: the language, the warnings, the libraries from outside and one function
# that makes a library of a folder under src/seatwright.

set(CMAKE_CXX_STANDARD 20)
set(CMAKE_CXX_STANDARD_REQUIRED ON)
set(CMAKE_CXX_EXTENSIONS OFF)
set(CMAKE_EXPORT_COMPILE_COMMANDS ON)
option(SEATWRIGHT_TESTS "build the tests" ON)
option(SEATWRIGHT_BENCH "build the benchmarks" OFF)
option(SEATWRIGHT_FUZZ "build the fuzz targets (clang)" OFF)
option(SEATWRIGHT_TOGETHER "compile several sources as one (off: each alone)" ON)
set(SEATWRIGHT_SANITIZE "" CACHE STRING "sanitizers, as for -fsanitize=")

find_program(CCACHE_PROGRAM ccache)
if(CCACHE_PROGRAM)
    # Paths below the source folder are taken relative to it, so that another clone finds what this one compiled; a
    # precompiled header is known by what it was made of.
    set(CMAKE_CXX_COMPILER_LAUNCHER env CCACHE_BASEDIR=${CMAKE_SOURCE_DIR} CCACHE_NOHASHDIR=1 CCACHE_PCH_EXTSUM=1
        CCACHE_SLOPPINESS=pch_defines,time_macros ${CMAKE_SOURCE_DIR}/cmake/compile ${CCACHE_PROGRAM})
endif()

add_library(seatwright_flags INTERFACE)
target_include_directories(seatwright_flags INTERFACE ${CMAKE_SOURCE_DIR}/src)
# Comparable results: no fused multiply-add where a formula says multiply and add.
target_compile_options(seatwright_flags INTERFACE -ffp-contract=off)
target_compile_options(seatwright_flags INTERFACE -Wall -Wextra -Wconversion -Wshadow -Werror)
if(CMAKE_CXX_COMPILER_ID STREQUAL "GNU")
    # GCC 12 reports these inside Eigen and the standard library at -O2 where nothing is wrong.
    target_compile_options(seatwright_flags INTERFACE
        -Wno-maybe-uninitialized -Wno-array-bounds -Wno-stringop-overflow -Wno-stringop-overread -Wno-restrict)
    # The compiler collects its own garbage later: a sixth less time for a third more memory (1.7 GB at most).
    target_compile_options(seatwright_flags INTERFACE
        "SHELL:--param ggc-min-heapsize=2000000" "SHELL:--param ggc-min-expand=1000")
else()
    # The last three instead of clang-tidy's checks for the same, which read every header again.
    target_compile_options(seatwright_flags INTERFACE -Wno-sign-conversion
        -Wloop-analysis -Wsuggest-override -Wnon-virtual-dtor)
endif()
if(SEATWRIGHT_SANITIZE)
    target_compile_options(seatwright_flags INTERFACE
        -fsanitize=${SEATWRIGHT_SANITIZE} -fno-sanitize-recover=all -fno-omit-frame-pointer)
    target_link_options(seatwright_flags INTERFACE -fsanitize=${SEATWRIGHT_SANITIZE})
    if(SEATWRIGHT_SANITIZE MATCHES thread)
        # Boost.Asio's fences, which that sanitizer does not see.
        target_compile_options(seatwright_flags INTERFACE -Wno-tsan)
    endif()
endif()
# What is handed out makes an error of ours hard to use against the shop: overrun buffers are noticed, addresses are
# drawn anew at each start, tables of functions cannot be written, jumps land only where a function begins.
if(CMAKE_BUILD_TYPE STREQUAL "Release")
    target_compile_options(seatwright_flags INTERFACE -fPIE -fstack-protector-strong -U_FORTIFY_SOURCE -D_FORTIFY_SOURCE=2)
    if(CMAKE_SYSTEM_PROCESSOR MATCHES "x86_64|AMD64")
        target_compile_options(seatwright_flags INTERFACE -fcf-protection=full)
    endif()
    target_link_options(seatwright_flags INTERFACE -pie -Wl,-z,relro,-z,now,-z,noexecstack)
    set(SEATWRIGHT_HARDENED ON)
endif()
find_program(LLD_PROGRAM ld.lld)
if(LLD_PROGRAM)
    target_link_options(seatwright_flags INTERFACE -fuse-ld=lld)
endif()

find_package(Eigen3 3.4 REQUIRED NO_MODULE)
find_package(tl-expected REQUIRED)
find_package(fmt REQUIRED)
find_package(nlohmann_json REQUIRED)
find_package(CLI11 REQUIRED)
find_package(Boost 1.74 REQUIRED)
find_package(Threads REQUIRED)
find_package(PkgConfig REQUIRED)
pkg_check_modules(clp REQUIRED IMPORTED_TARGET clp)
# Only the headers: the program opens the library itself, when it draws a page (papers/page/pdf_library.hpp).
pkg_check_modules(rsvg REQUIRED librsvg-2.0 cairo-pdf)
add_library(seatwright_rsvg INTERFACE)
target_include_directories(seatwright_rsvg SYSTEM INTERFACE ${rsvg_INCLUDE_DIRS})
target_link_libraries(seatwright_rsvg INTERFACE ${CMAKE_DL_LIBS})
pkg_check_modules(sodium REQUIRED IMPORTED_TARGET libsodium)
pkg_check_modules(sqlite REQUIRED IMPORTED_TARGET sqlite3)
find_package(OpenSSL REQUIRED)
find_package(ZLIB REQUIRED)
find_package(pugixml 1.13 REQUIRED)  # documents of agents (live/mtconnect.hpp)
# Only the headers: the program opens ICU itself, when it compares names (store/names.hpp).
pkg_check_modules(icu REQUIRED icu-i18n)
find_library(CRACK_LIBRARY crack REQUIRED)
# SOCI 4.0 on Debian has neither a CMake config nor a .pc file.
find_library(SOCI_CORE soci_core REQUIRED)
find_library(SOCI_SQLITE3 soci_sqlite3 REQUIRED)
find_library(SOCI_POSTGRESQL soci_postgresql REQUIRED)
pkg_check_modules(libpq REQUIRED IMPORTED_TARGET libpq)
add_library(seatwright_soci INTERFACE)
target_link_libraries(seatwright_soci INTERFACE ${SOCI_CORE} ${SOCI_SQLITE3} ${SOCI_POSTGRESQL} PkgConfig::sqlite
    PkgConfig::libpq)
if(SEATWRIGHT_SANITIZE MATCHES undefined)
    # SOCI keeps the type information of its classes to itself, which the check of virtual calls would link to.
    target_compile_options(seatwright_soci INTERFACE -fno-sanitize=vptr)
endif()

# A test, or a bench, writes the fields it speaks of; the rest keep what the struct gives them. Linked last: it takes back
# what the flags of the house ask.
add_library(test_flags INTERFACE)
target_compile_options(test_flags INTERFACE -Wno-missing-field-initializers)

# The headers from outside that most sources read, compiled once: for the libraries and the command line, and with
# what tests read besides for them. Sources include what they need all the same (scripts/alone.mjs holds them to it).
set(SEATWRIGHT_HEADERS <algorithm> <array> <charconv> <chrono> <cmath> <filesystem> <fstream> <functional> <map>
    <memory> <numeric> <optional> <random> <set> <span> <sstream> <string> <string_view> <variant> <vector>
    <Eigen/Core> <Eigen/Cholesky> <Eigen/Geometry> <Eigen/LU> <Eigen/QR> <fmt/format.h> <fmt/ranges.h>
    <nlohmann/json.hpp> <tl/expected.hpp>)

# Which sources are compiled as one: cmake/together.txt, written by scripts/together.mjs. A source that is not on the
# list is compiled alone, and all are where SEATWRIGHT_TOGETHER is off.
set_property(DIRECTORY APPEND PROPERTY CMAKE_CONFIGURE_DEPENDS ${CMAKE_CURRENT_LIST_DIR}/together.txt)
file(STRINGS ${CMAKE_CURRENT_LIST_DIR}/together.txt together REGEX "^[^#]")
foreach(line ${together})
    string(REPLACE " " ";" line ${line})
    list(GET line 0 path)
    list(GET line 1 SEATWRIGHT_UNIT_OF_${path})
endforeach()

# seatwright_units(<variable> <name> <root> <sources…>): sets the variable to files that include the sources of a unit
# each, by their path below <root>, an include folder of the target (CMake's own unity build names them by absolute
# paths, and another clone's ccache would find none of them).
function(seatwright_units variable name root)
    set(units "")
    set(numbers "")
    foreach(source ${ARGN})
        cmake_path(RELATIVE_PATH source BASE_DIRECTORY ${root} OUTPUT_VARIABLE path)
        set(number "${SEATWRIGHT_UNIT_OF_${path}}")
        if(number STREQUAL "" OR NOT SEATWRIGHT_TOGETHER)
            list(APPEND units ${source})
            continue()
        endif()
        list(APPEND numbers ${number})
        string(APPEND text_${number} "#include \"${path}\"\n")
    endforeach()
    list(REMOVE_DUPLICATES numbers)
    foreach(number ${numbers})
        set(file ${CMAKE_BINARY_DIR}/units/${name}_${number}.cpp)
        file(CONFIGURE OUTPUT ${file} CONTENT "${text_${number}}" @ONLY)
        list(APPEND units ${file})
    endforeach()
    set(${variable} ${units} PARENT_SCOPE)
endfunction()

# seatwright_library(<name> LINKS <targets…>): the sources below src/seatwright/<name> as the static library
# seatwright_<name>.
function(seatwright_library name)
    cmake_parse_arguments(ARG "" "" "LINKS" ${ARGN})
    file(GLOB_RECURSE sources CONFIGURE_DEPENDS ${CMAKE_SOURCE_DIR}/src/seatwright/${name}/*.cpp)
    if(sources)
        seatwright_units(units ${name} ${CMAKE_SOURCE_DIR}/src ${sources})
        add_library(seatwright_${name} STATIC ${units})
        target_link_libraries(seatwright_${name} PUBLIC seatwright_flags ${ARG_LINKS})
        if(name STREQUAL base)
            target_precompile_headers(seatwright_base PRIVATE ${SEATWRIGHT_HEADERS})
        else()
            target_precompile_headers(seatwright_${name} REUSE_FROM seatwright_base)
        endif()
    else()
        add_library(seatwright_${name} INTERFACE)
        target_link_libraries(seatwright_${name} INTERFACE seatwright_flags ${ARG_LINKS})
    endif()
endfunction()
