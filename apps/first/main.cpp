// first_plan JOB FOLDER: what `seatwright plan JOB --out FOLDER` does, in a program that takes half as long
// to compile.
#include <fmt/format.h>

#include <cstdio>
#include <exception>

#include "cli/commands.hpp"

int main(int argc, char** argv) {
    using namespace seatwright;
    if (argc != 3) {
        fmt::print(stderr, "first_plan: wanted a job file and the folder for its papers\n");
        return cli::exit_input;
    }
    try {
        cli::Asked asked;
        asked.job = argv[1];
        asked.out = argv[2];
        return cli::plan(asked);
    } catch (const std::exception& broken) {
        fmt::print(stderr, "seatwright: our own error, please report it: {}\n", broken.what());
        return cli::exit_ours;
    }
}
