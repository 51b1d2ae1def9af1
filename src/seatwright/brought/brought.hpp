// What brings a head's data in, survey, drawing and scan, as JSON (the contract's keys) and as text for a
// terminal.
#pragma once

#include <nlohmann/json.hpp>
#include <string>

#include "seatwright/drawing/drawing.hpp"
#include "seatwright/report/report.hpp"
#include "seatwright/scan/scan.hpp"
#include "seatwright/survey/laid_over.hpp"
#include "seatwright/survey/survey.hpp"

namespace seatwright::brought {

// Said in the unit of the job that is made of it, or as `speech` says.
nlohmann::ordered_json json_of(const survey::Survey& survey);
nlohmann::ordered_json json_of(const drawing::Drawing& drawing);
nlohmann::ordered_json json_of(const scan::Scan& scan);
nlohmann::ordered_json json_of(const survey::Survey& survey, const Speech& speech);
nlohmann::ordered_json json_of(const drawing::Drawing& drawing, const Speech& speech);
nlohmann::ordered_json json_of(const scan::Scan& scan, const Speech& speech);
// The object `over`: another description of the head laid over this one.
nlohmann::ordered_json json_of(const survey::LaidOver& over);

std::string text_of(const survey::Survey& survey, const report::TextStyle& style);
std::string text_of(const drawing::Drawing& drawing, const report::TextStyle& style);
std::string text_of(const scan::Scan& scan, const report::TextStyle& style);
std::string text_of(const survey::LaidOver& over, const report::TextStyle& style);

}  // namespace seatwright::brought
