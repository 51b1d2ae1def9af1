// Runs the built binary as a person does, through a shell, and keeps what it printed.
#pragma once

#include <sys/wait.h>

#include <array>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>

#include "places.hpp"

namespace seatwright::outside {

namespace fs = std::filesystem;

struct Ran {
    int status = -1;
    std::string out, err;
};

// A folder of its own for a test, gone afterwards.
class Scratch {
  public:
    Scratch() {
        std::string pattern = (fs::temp_directory_path() / "seatwright-test-XXXXXX").string();
        path_ = ::mkdtemp(pattern.data());
    }
    ~Scratch() {
        std::error_code ec;
        fs::remove_all(path_, ec);
    }
    Scratch(const Scratch&) = delete;
    Scratch& operator=(const Scratch&) = delete;
    const fs::path& path() const { return path_; }
    fs::path write(const std::string& name, const std::string& text) const {
        std::ofstream(path_ / name, std::ios::binary) << text;
        return path_ / name;
    }

  private:
    fs::path path_;
};

inline std::string slurp(const fs::path& path) {
    std::ifstream file(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(file), {}};
}

// `words` follow the program's name; `before` is shell text put in front ("ulimit -f 8;").
inline Ran run(const std::string& words, const std::string& before = {}) {
    const Scratch scratch;
    const auto err = scratch.path() / "err", out = scratch.path() / "out";
    const std::string redirect = words.find('>') == std::string::npos ? " >" + out.string() : "";
    const std::string command = before + " \"" + std::string(places::binary) + "\" " + words + redirect +
                                " 2>" + err.string() + " </dev/null";
    const int rc = std::system(("bash -c '" + command + "'").c_str());
    return {WIFEXITED(rc) ? WEXITSTATUS(rc) : -1, slurp(out), slurp(err)};
}

inline const std::string canted = std::string(places::root) + "/examples/canted/job.toml";
inline const std::string wedge = std::string(places::root) + "/examples/wedge/job.toml";

}  // namespace seatwright::outside
