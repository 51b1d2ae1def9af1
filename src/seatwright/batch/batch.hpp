// A forecast of a batch as JSON (the contract's keys), as text for a terminal, and its answer in sentences.
#pragma once

#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "seatwright/forecast/forecast.hpp"
#include "seatwright/report/report.hpp"

namespace seatwright::batch {

// Sentences are said in the job's unit, or as `speech` says.
nlohmann::ordered_json json_of(const job::Job& job, const forecast::Forecast& forecast);
nlohmann::ordered_json json_of(const job::Job& job, const forecast::Forecast& forecast, const Speech& speech);
std::string text_of(const job::Job& job, const forecast::Forecast& forecast, const report::TextStyle& style);

// The answer in sentences, and the cells of its tables, for terminal and paper alike. Changes that gain less
// are not worth a line.
inline constexpr double gain_worth_telling = 5e-5;
std::vector<Sentence> forecast_sentences(const job::Job& job, const forecast::Forecast& forecast);
std::vector<std::string> change_cells(const forecast::Change& change, const Speech& speech);
std::vector<std::string> input_cells(const forecast::Input& input, LengthUnit unit);

}  // namespace seatwright::batch
