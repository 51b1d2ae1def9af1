// The virtual shop (docs/virtual-shop.md): heads of twelve kinds go round the whole loop on the simulated
// machine while a simulated person reads with the spread of a shop and in some of the acts slips as people
// do. Each slip is also tried alone against the same head without it, so that what caught it is known.
// Invented data; mm.
#pragma once

#include <array>
#include <map>
#include <random>
#include <string>
#include <vector>

#include "floor.hpp"

namespace seatwright::sim {

enum class Slip {
    unit,
    sign,
    decimal,
    valve,
    head,
    row,
    post_hole,
    pilot,
    zero,
    reversed,
    skipped,
    stale,
    rim
};
inline constexpr std::size_t slip_kinds = 13;
const char* word(Slip slip);

// What became of a slip tried alone.
enum class Fate {
    refused,     // the job as typed is at fault: a sentence, no program
    held,        // a seat or setup is held back that is not without the slip
    said,        // a warning that is not there without it
    at_machine,  // the file's first lines name another head, date or digest than the sheet in hand
    harmless,    // nothing said, and every seat within 0.05 of where it comes without the slip, or left out
    off_plan,    // nothing said, a seat further off, but within its limits
    damage       // let through, and something was harmed
};
inline constexpr std::size_t fates = 7;
const char* word(Fate fate);

struct Account {
    int heads = 0, refused = 0, programs = 0, seats = 0, moves = 0, halts = 0, acts = 0, slips = 0;
    int harmed_with_slips = 0;       // heads harmed with all their slips at once
    int certified = 0, doubted = 0;  // seats cut that pass, and that do not
    std::map<std::string, int> kinds;
    std::array<std::array<int, fates>, slip_kinds> fate{};
    std::map<std::string, int> codes;        // "unit: doubt", how often it was what caught the slip
    std::map<std::string, int> let_through;  // "pilot at the pilot: the slide is driven solid"
    std::vector<std::string> clean_harmed,
        examples;  // heads without any slip that were harmed; the let through
};

class Shop {
  public:
    Shop(unsigned seed, double slip_rate, std::string interpreter);
    void take(int heads);
    const Account& account() const { return account_; }

  private:
    std::mt19937 random_;
    double rate_;
    std::string interpreter_;
    Account account_;
    int next_ = 0;
};

}  // namespace seatwright::sim
