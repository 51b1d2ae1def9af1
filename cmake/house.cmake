# How every part of the house is built: the language, the warnings, the libraries from outside and one function
# that makes a library of a folder under src/seatwright.

set(CMAKE_CXX_STANDARD 20)
set(CMAKE_CXX_STANDARD_REQUIRED ON)
set(CMAKE_CXX_EXTENSIONS OFF)
set(CMAKE_EXPORT_COMPILE_COMMANDS ON)
option(SEATWRIGHT_TESTS "build the tests" ON)
option(SEATWRIGHT_BENCH "build the benchmarks" OFF)
option(SEATWRIGHT_FUZZ "build the fuzz targets (clang)" OFF)
set(SEATWRIGHT_SANITIZE "" CACHE STRING "sanitizers, as for -fsanitize=")

find_program(CCACHE_PROGRAM ccache)
if(CCACHE_PROGRAM)
    # Paths below the source folder are taken relative to it, so that another clone finds what this one compiled; a
    # precompiled header is known by what is in it.
    set(CMAKE_CXX_COMPILER_LAUNCHER env CCACHE_BASEDIR=${CMAKE_SOURCE_DIR} CCACHE_NOHASHDIR=1
        CCACHE_SLOPPINESS=pch_defines,time_macros ${CCACHE_PROGRAM})
endif()

add_library(seatwright_flags INTERFACE)
target_include_directories(seatwright_flags INTERFACE ${CMAKE_SOURCE_DIR}/src)
# Comparable results: no fused multiply-add where a formula says multiply and add.
target_compile_options(seatwright_flags INTERFACE -ffp-contract=off)
if(CMAKE_CXX_COMPILER_ID STREQUAL "GNU")
    # The last five GCC 12 reports inside Eigen and the standard library at -O2 where nothing is wrong.
    target_compile_options(seatwright_flags INTERFACE -Wall -Wextra -Wconversion -Wshadow -Werror
        -Wno-maybe-uninitialized -Wno-array-bounds -Wno-stringop-overflow -Wno-stringop-overread -Wno-restrict)
endif()
if(SEATWRIGHT_SANITIZE)
    target_compile_options(seatwright_flags INTERFACE
        -fsanitize=${SEATWRIGHT_SANITIZE} -fno-sanitize-recover=all -fno-omit-frame-pointer)
    target_link_options(seatwright_flags INTERFACE -fsanitize=${SEATWRIGHT_SANITIZE})
endif()
find_program(LLD_PROGRAM ld.lld)
if(LLD_PROGRAM)
    target_link_options(seatwright_flags INTERFACE -fuse-ld=lld)
endif()

find_package(Eigen3 3.4 REQUIRED NO_MODULE)
find_package(tl-expected REQUIRED)
find_package(fmt REQUIRED)
find_package(tomlplusplus REQUIRED)
find_package(nlohmann_json REQUIRED)
find_package(CLI11 REQUIRED)
find_package(Boost 1.74 REQUIRED)
find_package(Threads REQUIRED)
find_package(PkgConfig REQUIRED)
pkg_check_modules(clp REQUIRED IMPORTED_TARGET clp)
# Only the headers: the program opens the library itself, when it draws a page (papers/pdf_library.hpp).
pkg_check_modules(rsvg REQUIRED librsvg-2.0 cairo-pdf)
add_library(seatwright_rsvg INTERFACE)
target_include_directories(seatwright_rsvg SYSTEM INTERFACE ${rsvg_INCLUDE_DIRS})
target_link_libraries(seatwright_rsvg INTERFACE ${CMAKE_DL_LIBS})
pkg_check_modules(sodium REQUIRED IMPORTED_TARGET libsodium)
pkg_check_modules(sqlite REQUIRED IMPORTED_TARGET sqlite3)
# The .pc's compile definitions decide the class layout and must be used; it leaves out OpenSSL's libraries.
pkg_check_modules(httplib REQUIRED IMPORTED_TARGET cpp-httplib)
find_package(OpenSSL REQUIRED)
# SOCI 4.0 on Debian has neither a CMake config nor a .pc file.
find_library(SOCI_CORE soci_core REQUIRED)
find_library(SOCI_SQLITE3 soci_sqlite3 REQUIRED)
add_library(seatwright_soci INTERFACE)
target_link_libraries(seatwright_soci INTERFACE ${SOCI_CORE} ${SOCI_SQLITE3} PkgConfig::sqlite)
if(SEATWRIGHT_SANITIZE MATCHES undefined)
    # SOCI keeps the type information of its classes to itself, which the check of virtual calls would link to.
    target_compile_options(seatwright_soci INTERFACE -fno-sanitize=vptr)
endif()

# seatwright_library(<name> LINKS <targets…>): src/seatwright/<name>/*.cpp as the static library seatwright_<name>.
function(seatwright_library name)
    cmake_parse_arguments(ARG "" "" "LINKS" ${ARGN})
    file(GLOB sources CONFIGURE_DEPENDS ${CMAKE_SOURCE_DIR}/src/seatwright/${name}/*.cpp)
    if(sources)
        add_library(seatwright_${name} STATIC ${sources})
        target_link_libraries(seatwright_${name} PUBLIC seatwright_flags ${ARG_LINKS})
    else()
        add_library(seatwright_${name} INTERFACE)
        target_link_libraries(seatwright_${name} INTERFACE seatwright_flags ${ARG_LINKS})
    endif()
endfunction()
