// Each stage's result as JSON (the contract's keys and units) and as text for a terminal. One pair of files a
// stage: json_<stage>.cpp and text_<stage>.cpp.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>

#include "seatwright/drawing/drawing.hpp"
#include "seatwright/forecast/forecast.hpp"
#include "seatwright/plan/plan.hpp"
#include "seatwright/plan/walk.hpp"
#include "seatwright/report/table.hpp"
#include "seatwright/survey/survey.hpp"

namespace seatwright::report {

// Version, job title, warnings and assumptions: what every answer starts with.
nlohmann::ordered_json json_frame(const job::Job& job, const Notices& notices);
nlohmann::ordered_json json_frame(const std::string& title, const Notices& notices);

// The stage's own keys, without the frame.
nlohmann::ordered_json json_of(const job::Job& job, const hold::Hold& hold);
nlohmann::ordered_json json_of(const job::Job& job, const find::Find& find);
nlohmann::ordered_json json_of(const job::Job& job, const shape::Shape& shape);
nlohmann::ordered_json json_of(const job::Job& job, const cut::Cut& cut);
nlohmann::ordered_json json_of(const job::Job& job, const prove::Proof& proof);
nlohmann::ordered_json json_of(const job::Job& job, const forecast::Forecast& forecast);
nlohmann::ordered_json json_of(const survey::Survey& survey);
nlohmann::ordered_json json_of(const drawing::Drawing& drawing);
// The object `over`: another description of the head laid over this one.
nlohmann::ordered_json json_of(const survey::LaidOver& over);

// A list of steps; valves by their ids, null where there is none.
nlohmann::ordered_json json_of(const job::Job& job, const std::vector<plan::WalkStep>& walk);

// An empty object with room for so many keys: one that grows copies all it holds.
nlohmann::ordered_json with_room(std::size_t keys);

// `more`'s keys behind those of `into`, moved.
void join(nlohmann::ordered_json& into, nlohmann::ordered_json&& more);

// A forecast's answer in sentences, and the cells of its tables, for terminal and paper alike. Changes that
// gain less are not worth a line.
inline constexpr double gain_worth_telling = 5e-5;
std::vector<std::string> forecast_sentences(const job::Job& job, const forecast::Forecast& forecast);
std::vector<std::string> change_cells(const forecast::Change& change, LengthUnit unit);
std::vector<std::string> input_cells(const forecast::Input& input, LengthUnit unit);

// Why a vacuum reading misleads; stands beside every one that is shown.
const char* vacuum_caution();

// A number for JSON: finite or null.
nlohmann::ordered_json number(std::optional<double> value, double scale = 1);

struct TextStyle {
    TableStyle table;
    LengthUnit unit = LengthUnit::mm;
};

std::string text_of(const job::Job& job, const hold::Hold& hold, const TextStyle& style);
std::string text_of(const job::Job& job, const find::Find& find, const TextStyle& style);
std::string text_of(const job::Job& job, const shape::Shape& shape, const TextStyle& style);
std::string text_of(const job::Job& job, const cut::Cut& cut, const TextStyle& style);
std::string text_of(const job::Job& job, const prove::Proof& proof, const TextStyle& style);
std::string text_of(const job::Job& job, const forecast::Forecast& forecast, const TextStyle& style);
std::string text_of(const survey::Survey& survey, const TextStyle& style);
std::string text_of(const drawing::Drawing& drawing, const TextStyle& style);
std::string text_of(const survey::LaidOver& over, const TextStyle& style);

}  // namespace seatwright::report
