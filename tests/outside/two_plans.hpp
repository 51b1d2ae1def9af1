// Two plans whose programs have the same names, each as it is written into a folder of its own.
#pragma once

#include <gtest/gtest.h>

#include <fstream>
#include <map>

#include "outside/program.hpp"

namespace seatwright::outside {

using Files = std::map<std::string, std::string>;

inline Files files_in(const fs::path& folder) {
    Files files;
    for (const auto& at : fs::directory_iterator(folder))
        files[at.path().filename().string()] = slurp(at.path());
    return files;
}

inline bool is_program(const std::string& name) {
    return name.starts_with("program-");
}

inline void fill(const fs::path& folder, const Files& files) {
    fs::remove_all(folder);
    fs::create_directory(folder);
    for (const auto& [name, bytes] : files) std::ofstream(folder / name, std::ios::binary) << bytes;
}

// The same head with its deck cut deeper: other programs under the same names, and a note that changes
// nothing.
struct TwoPlans {
    Scratch scratch;
    fs::path first = fs::path(canted), second, folder = scratch.path() / "papers";
    Files before, after;

    TwoPlans() {
        std::string text = slurp(canted);
        const auto at = text.find("title = ");
        text.replace(at, 9, "title = \"again, ");
        const auto shop = text.find("\"../../shop/shop.toml\"");
        EXPECT_NE(shop, std::string::npos);
        text.replace(shop, 22, "\"" + std::string(places::root) + "/shop/shop.toml\"");
        second = scratch.write("again.toml", text);
        run("plan " + first.string() + " --out " + folder.string());
        before = files_in(folder);
        fs::remove_all(folder);
        run("plan " + second.string() + " --out " + folder.string());
        after = files_in(folder);
    }
};

}  // namespace seatwright::outside
