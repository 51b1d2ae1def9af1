// Each stage's result as JSON (the contract's keys and units) and as text for a terminal. One pair of files a
// stage: json_<stage>.cpp and text_<stage>.cpp.
#pragma once

#include <nlohmann/json.hpp>
#include <string>

#include "seatwright/plan/plan.hpp"
#include "seatwright/plan/walk.hpp"
#include "seatwright/report/table.hpp"
#include "seatwright/words/in_words.hpp"

namespace seatwright::report {

// How JSON speaks of a job: in its own unit, whatever somebody reads it in.
Speech speech_of(const job::Job& job);

// Version, job title, warnings and assumptions: what every answer starts with. Beside each sentence stands
// what is in it (values_json.hpp).
nlohmann::ordered_json json_frame(const job::Job& job, const Notices& notices);
nlohmann::ordered_json json_frame(const std::string& title, const Notices& notices, const Speech& speech);

nlohmann::ordered_json json_of(const Warning& warning, const Speech& speech);

// The whole, or what the page of one head shows at once: without the points of series, which are as many as
// the heads, and of chatter charts, which are drawn, and without what takes long to work out of the next
// head's blind run.
enum class Extent { whole, page };

// The stage's own keys, without the frame. Sentences are said as `speech` says: by speech_of(job) on the
// command line and in papers, in the unit of a page where a page asks.
nlohmann::ordered_json json_of(const job::Job& job, const hold::Hold& hold, const Speech& speech);
nlohmann::ordered_json json_of(const job::Job& job, const find::Find& find, const Speech& speech,
                               Extent extent = Extent::whole);
nlohmann::ordered_json json_of(const job::Job& job, const shape::Shape& shape, const Speech& speech);
nlohmann::ordered_json json_of(const job::Job& job, const cut::Cut& cut, const Speech& speech,
                               Extent extent = Extent::whole);
nlohmann::ordered_json json_of(const job::Job& job, const prove::Proof& proof, const Speech& speech,
                               Extent extent = Extent::whole);

// A list of steps; valves by their ids, null where there is none.
nlohmann::ordered_json json_of(const job::Job& job, const std::vector<plan::WalkStep>& walk,
                               const Speech& speech);

template <class Result>
nlohmann::ordered_json json_of(const job::Job& job, const Result& result) {
    return json_of(job, result, speech_of(job));
}

// An empty object with room for so many keys: one that grows copies all it holds.
nlohmann::ordered_json with_room(std::size_t keys);

// `more`'s keys behind those of `into`, moved.
void join(nlohmann::ordered_json& into, nlohmann::ordered_json&& more);

// Why a vacuum reading misleads; stands beside every one that is shown.
Sentence vacuum_caution();
// How far a head's stem heights lie apart, and the verdict on it.
Sentence spread_words(const job::Job& job, const prove::StemSpread& spread, LengthUnit unit);
// The limits that nothing is claimed of; empty when there are none.
Sentence not_judged_words(const prove::Proof& proof);

// A number for JSON: finite or null.
nlohmann::ordered_json number(std::optional<double> value, double scale = 1);

struct TextStyle {
    TableStyle table;
    LengthUnit unit = LengthUnit::mm;
    const words::Catalogue* catalogue = &words::english();
    Speech speech() const { return {unit, catalogue}; }
};

std::string text_of(const job::Job& job, const hold::Hold& hold, const TextStyle& style);
std::string text_of(const job::Job& job, const find::Find& find, const TextStyle& style);
std::string text_of(const job::Job& job, const shape::Shape& shape, const TextStyle& style);
std::string text_of(const job::Job& job, const cut::Cut& cut, const TextStyle& style);
std::string text_of(const job::Job& job, const prove::Proof& proof, const TextStyle& style);

}  // namespace seatwright::report
