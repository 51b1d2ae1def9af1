// The sentences of the setup sheet.
#pragma once

#include <string>
#include <vector>

#include "seatwright/papers/sheet/card.hpp"
#include "seatwright/report/attitude.hpp"
#include "seatwright/words/in_words.hpp"

namespace seatwright::papers {

std::string mass_on_sheet(double kg, LengthUnit unit);     // "21 kg", "21 kg (46 lb)"
std::string slip_on_sheet(const hold::Safety& safety);     // "4.7", "level", "–"
std::string release_on_sheet(const hold::Safety& safety);  // "stays", "SLIDES: tilt back first", …
Sentence posts_on_sheet(const hold::Posts& posts);

// More setups than this are spoken of together: the table has each.
inline constexpr std::size_t setups_apart = 6;
std::vector<Sentence> program_words(const cut::Cut& cut);

// The warnings of one severity as sentences, in their order; more than `apart` of one sort are one sentence
// that names the other valves, at most `named` of them, or counts the others.
struct Gathering {
    std::size_t apart = 3, named = 40;
};
std::vector<std::string> gathered_warnings(const Notices& notices, Severity severity, const Speech& speech,
                                           const Gathering& gathering = {});

// What always holds at such a machine (common practice).
std::vector<Sentence> standing_cautions();

// What to look at before the first cut, for this plan.
std::vector<Sentence> first_cut_checks(const job::Job& job, const plan::Plan& plan);

// The first cut is short of its stop: what is typed for it, and what the gauge is to read, are its own:
// "first Z -0.273: 0.070 deep".
Sentence first_words(const CardRow& row);
// What is measured after it, and what is typed where a second file is made from that.
enum class After { one_file, second_file };
Sentence measure_words(const CardRow& row, After after);

}  // namespace seatwright::papers
