// The 32-valve job the server is timed on, and what a person on its page asks for.
#pragma once

#include <fstream>
#include <sstream>

#include "../tests/server/client.hpp"

namespace seatwright::server {

// Eight cylinders of four valves, every stage computable: seats and touches of head 1 on record. `root`: of
// the source.
inline long long job_of_32(TestShop& shop, const std::string& root) {
    std::ifstream in(root + "/bench/thirty_two_valves.toml");
    std::stringstream text;
    text << in.rdbuf();
    const Json job = shop.pat->post("/api/jobs", {{"from", "text"}, {"text", text.str()}}).json();
    return job.value("id", 0LL);
}

// The n-th entry of a shift: head after head, valve after valve, each first touched, later measured.
inline Json entry_of_shift(int n) {
    constexpr int cylinders = 8, valves = 4, kinds = 3;
    static const char* const names[] = {"Ia", "Ib", "Ea", "Eb"};
    const int place = n / kinds, valve = place % (cylinders * valves);
    Json entry{{"client_key", "shift-" + std::to_string(100'000 + n)},
               {"head", std::to_string(2 + place / (cylinders * valves))},
               {"valve", std::to_string(1 + valve / valves) + names[valve % valves]},
               {"units", "mm"}};
    if (n % kinds == 0) {
        entry["kind"] = "seat";
        entry["values"] = {{"cleanup", 0.1 + 0.001 * valve}, {"stem_height", 39.0}, {"recession", 0.1}};
    } else if (n % kinds == 1) {
        entry["kind"] = "proof";
        entry["values"] = {{"runout", 0.01 + 0.0001 * valve}, {"stem_height", 39.1}};
    } else {
        entry["kind"] = "guide";
        entry["values"] = {{"top", 6.0}, {"middle", 6.001}, {"bottom", 6.002}};
    }
    return entry;
}

}  // namespace seatwright::server
