// The virtual shop at large: `bench_virtual_shop [heads] [seed]` takes so many heads round the loop of
// tests/program/shop.hpp and prints the figures of docs/virtual-shop.md.
#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cstdlib>
#include <iostream>

#include "program/shop.hpp"

namespace {

using namespace seatwright::sim;

constexpr double slip_rate = 0.03;
constexpr int round_of = 500;  // heads between two words on how far it is

void figures(const Account& a, double seconds) {
    std::cout << fmt::format(
        "Heads {}, of {} kinds; acts {}, slips {}; jobs refused {}; files run {}; moves {}; halts {}; seats "
        "cut {}, "
        "certified {}, not certified {}; heads harmed without a slip {}; heads with slips harmed, all their "
        "slips at once {}; {:.0f} s.\n\n",
        a.heads, a.kinds.size(), a.acts, a.slips, a.refused, a.programs, a.moves, a.halts, a.seats,
        a.certified, a.doubted, a.clean_harmed.size(), a.harmed_with_slips, seconds);
    std::cout << "| slip |";
    for (std::size_t f = 0; f < fates; ++f) std::cout << " " << word(static_cast<Fate>(f)) << " |";
    std::cout << " sum |\n|---|";
    for (std::size_t f = 0; f <= fates; ++f) std::cout << "---:|";
    std::cout << "\n";
    for (std::size_t s = 0; s < slip_kinds; ++s) {
        int sum = 0;
        std::cout << "| " << word(static_cast<Slip>(s)) << " |";
        for (const int n : a.fate[s]) {
            std::cout << " " << n << " |";
            sum += n;
        }
        std::cout << " " << sum << " |\n";
    }
    std::cout << "\nWhat caught them:\n\n";
    for (const auto& [what, n] : a.codes) std::cout << "- " << what << " " << n << "\n";
    std::cout << "\nLet through with damage:\n\n";
    for (const auto& [what, n] : a.let_through) std::cout << "- " << n << " × " << what << "\n";
}

}  // namespace

int main(int count, char** words) {
    const int heads = count > 1 ? std::atoi(words[1]) : 10'000;
    const unsigned seed = count > 2 ? static_cast<unsigned>(std::atoi(words[2])) : 1;
    const auto folder = interpreter_folder();
    if (!folder || heads < 1) {
        std::cerr << (folder ? "heads must be 1 or more\n"
                             : "no outside interpreter: scripts/fetch_rs274 brings it\n");
        return 1;
    }
    const auto begun = std::chrono::steady_clock::now();
    Shop shop(seed, slip_rate, *folder);
    for (int done = 0; done < heads; done += round_of) {
        shop.take(std::min(round_of, heads - done));
        std::cerr << shop.account().heads << " heads\n";
    }
    const std::chrono::duration<double> took = std::chrono::steady_clock::now() - begun;
    figures(shop.account(), took.count());
    for (const std::string& harmed : shop.account().clean_harmed) std::cerr << "no slip: " << harmed << "\n";
    for (const std::string& example : shop.account().examples) std::cerr << example << "\n";
    return shop.account().clean_harmed.empty() ? 0 : 1;
}
