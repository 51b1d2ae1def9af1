#include "server/answers/survey_state.hpp"

#include <fmt/format.h>

#include <array>

#include "seatwright/brought/brought.hpp"
#include "seatwright/job/key_names.hpp"
#include "seatwright/job/key_tree.hpp"
#include "seatwright/job/kind_word.hpp"
#include "seatwright/job/writer.hpp"
#include "seatwright/survey/accepted.hpp"
#include "seatwright/survey/job_text.hpp"
#include "seatwright/survey/read.hpp"
#include "seatwright/survey/walk.hpp"
#include "server/jobs/on_the_shelf.hpp"
#include "server/jobs/survey_text.hpp"

namespace seatwright::server {

namespace {

constexpr const char* readings_name = "readings";

// What the entries come to as far as they do.
struct Worked {
    SurveyText text;
    survey::Readings readings;
    std::optional<survey::Asked> found;
    Faults faults;
};

Worked survey_worked_out(const store::SurveyRow& row, const std::vector<store::SurveyEntry>& entries) {
    Worked out;
    out.text = survey_text(row, entries);
    if (out.text.entries.empty()) return out;  // nothing is read yet
    auto readings = survey::read_readings(out.text.text, readings_name);
    if (!readings) {
        out.faults = readings.error();
        return out;
    }
    out.readings = *readings;
    auto found = survey::asked_survey(*readings);
    if (found)
        out.found = std::move(*found);
    else
        out.faults = found.error();
    return out;
}

// What is typed for it.
std::vector<std::string> fields_of(const survey::Ask& ask) {
    using Of = survey::Ask::Of;
    switch (ask.of) {
        case Of::setup:
            return {"tilt", "swing"};
        case Of::deck_level:
        case Of::guide_level:
            return {"first", "second"};
        case Of::deck:
            return {"x", "y", "z", "ball"};
        case Of::hole:
            return {"x", "y", "z", "ball", "diameter"};
        case Of::guide:
            return {"x", "y"};
        case Of::valve_head:
            return {"z", "head_height"};
        case Of::way:
            return {"way"};
        case Of::size:
            return {"value"};
        case Of::end:
            return {"end"};
    }
    return {};
}

Json angle_json(const std::optional<double>& angle) {
    return angle ? Json(std::round(deg(*angle) * 1e4) / 1e4 + 0.0) : Json(nullptr);
}

Json survey_part_json(const survey::Step& step, const Speech& speech) {
    const auto& ask = step.ask;
    using Of = survey::Ask::Of;
    const bool leans = ask.of == Of::deck_level || ask.of == Of::guide_level || ask.of == Of::way;
    return {{"key", survey::key_of(ask)},
            {"of", survey::word_of(ask.of)},
            {"setup", ask.setup.empty() ? Json(nullptr) : Json(ask.setup)},
            {"id", ask.id.empty() ? Json(nullptr) : Json(ask.id)},
            {"across", leans ? Json(ask.across == job::Across::incline ? "incline" : "cant") : Json(nullptr)},
            {"size", ask.of == Of::size ? Json(survey::word_of(ask.size)) : Json(nullptr)},
            {"tilt_deg", angle_json(ask.tilt)},
            {"swing_deg", angle_json(ask.swing)},
            {"fields", fields_of(ask)},
            {"sentence", in_words(step.sentence, speech)},
            {"why", in_words(step.why, speech)},
            {"help", step.help}};
}

Json faults_json(const Worked& worked) {
    Json list = Json::array();
    for (const auto& fault : worked.faults) {
        const auto entry = worked.text.entry_of(fault.key);
        list.push_back(
            {{"entry", entry ? Json(*entry) : Json(nullptr)}, {"key", fault.key}, {"text", fault.text}});
    }
    return list;
}

// Why each entry that was not used is set aside.
std::map<long long, std::string> set_aside(const Worked& worked, const Speech& speech) {
    std::map<long long, std::string> out;
    if (worked.found)
        for (const auto& aside : worked.found->survey.aside)
            if (const auto entry = worked.text.entry_of(aside.key))
                out.emplace(*entry,
                            fmt::format("{}: {}", in_words(aside.what, speech), in_words(aside.why, speech)));
    return out;
}

// The repeats somebody accepted.
std::vector<std::string> accepted_in(const Worked& worked) {
    const Json& head = worked.text.head;
    return head.contains("accepted") ? head["accepted"].get<std::vector<std::string>>()
                                     : std::vector<std::string>{};
}

// Facets beside a face are cut at 15 deg either way of it, their widths and the inset as shares of the head
// (common practice).
std::string seat_form(const survey::Survey& found, const Json& forms, job::Kind kind, LengthUnit units) {
    const Json::json_pointer at(fmt::format("/{}", job::kind_word(kind)));
    if (!forms.is_object() || !forms.contains(at)) return {};
    const Json& given = forms.at(at);
    const auto number = [&](const char* key) {
        return given.contains(key) && given[key].is_number() ? std::optional(given[key].get<double>())
                                                             : std::nullopt;
    };
    const auto angle = number("seat_angle"), width = number("seat_width");
    if (!angle && !width) return {};
    const job::Bounds& taken = job::key_at("seat.*.angle")->new_head;
    if (!angle || !width || *angle < taken.low || *angle > taken.high || *width <= 0)
        throw http_error(
            400, fmt::format("a seat of the {} needs both: its angle from {:g} to {:g} degrees and its "
                             "width above nothing",
                             job::kind_word(kind), taken.low, taken.high));
    double head = 0;
    for (const auto& size : found.sizes)
        if (size.what == survey::SizeOf::valve_head && size.kind == kind) head = size.value;
    if (head == 0)
        throw http_error(
            400, fmt::format("the head diameter of the {} valve is not typed yet: its seat hangs on it",
                             job::kind_word(kind)));
    const auto share = [&](double of) { return job::toml_length(std::round(of * head * 100) / 100, units); };
    constexpr double beside = 15, inset = 0.012, top = 0.025, throat = 0.04;
    return fmt::format(
        "\n[seat.{}]                # angle and width as wanted, the rest common practice\nangle = {}\nwidth "
        "= {}\n"
        "inset = {}\ntop = [ {{ angle = {}, width = {} }} ]\nthroat = [ {{ angle = {}, width = {} }} ]\n",
        job::kind_word(kind), *angle, *width, share(inset), *angle - beside, share(top), *angle + beside,
        share(throat));
}

}  // namespace

Json to_json(const store::SurveyRow& row) {
    return {{"id", row.id},
            {"title", row.title},
            {"units", row.units == LengthUnit::inch ? "in" : "mm"},
            {"sequence", row.sequence},
            {"made_at", store::iso_time(row.made_ms)},
            {"changed_at", store::iso_time(row.changed_ms)},
            {"changed_by", row.changed_by},
            {"job", row.job ? Json(*row.job) : Json(nullptr)}};
}

Json to_json(const store::SurveyEntry& e, bool live) {
    return {{"id", e.id},
            {"sequence", e.sequence},
            {"client_key", e.client_key},
            {"kind", e.kind},
            {"values", e.values},
            {"by", e.by},
            {"at", store::iso_time(e.at_ms)},
            {"made_at", e.said_ms ? Json(store::iso_time(*e.said_ms)) : Json(nullptr)},
            {"corrects", e.corrects ? Json(*e.corrects) : Json(nullptr)},
            {"withdrawn", e.withdrawn},
            {"live", live}};
}

Json survey_json(Workbench& bench, const store::SurveyRow& row, std::optional<LengthUnit> unit) {
    const auto entries = store::Surveys(bench.database).entries(row.id);
    const auto live = store::live_entries(entries);
    const Worked worked = survey_worked_out(row, entries);
    const Speech speech = job::on_page(unit.value_or(row.units));
    const auto aside = set_aside(worked, speech);
    Json list = Json::array(), steps = Json::array();
    for (std::size_t i = 0; i < entries.size(); ++i) {
        Json json = to_json(entries[i], live[i]);
        const auto why = aside.find(entries[i].id);
        json["set_aside"] = why == aside.end() ? Json(nullptr) : Json(why->second);
        list.push_back(std::move(json));
    }
    for (const auto& step :
         survey::walk(worked.text.said, worked.readings, worked.found ? &*worked.found : nullptr))
        steps.push_back(survey_part_json(step, speech));
    Json json = to_json(row);
    json["head"] = worked.text.head;
    json["guides"] = worked.text.said.guides;
    json["entries"] = std::move(list);
    json["steps"] = std::move(steps);
    json["faults"] = faults_json(worked);
    json["ready"] =
        worked.found && survey::is_a_job(survey::accepted(worked.found->survey, accepted_in(worked)));
    json["whole"] = worked.found && worked.found->survey.whole();
    json["found"] = nullptr;
    if (worked.found) {
        json["found"] = report::json_frame(row.title, worked.found->survey, speech);
        report::join(json["found"], brought::json_of(worked.found->survey, speech));
    }
    return json;
}

std::string survey_file(Workbench& bench, const store::SurveyRow& row) {
    return survey_text(row, store::Surveys(bench.database).entries(row.id)).text;
}

std::string job_of_survey(Workbench& bench, const store::SurveyRow& row, const Json& forms) {
    Worked worked = survey_worked_out(row, store::Surveys(bench.database).entries(row.id));
    if (!worked.faults.empty())
        throw http_error(422, "the readings do not agree: " + worked.faults.front().text, worked.faults);
    const std::string shop = bench.shelf.current().text;
    if (worked.found) {
        worked.found->survey.readings.shop = "shelf";
        if (auto fixture = first_fixture(shop); !fixture.empty())
            worked.found->survey.readings.fixture = std::move(fixture);
    }
    auto text = worked.found ? survey::job_text(worked.found->survey, accepted_in(worked)) : std::nullopt;
    if (!text) throw http_error(422, "the readings leave every valve open; a job has at least one");
    for (const auto kind : job::both_kinds) *text += seat_form(worked.found->survey, forms, kind, row.units);
    const Json& head = worked.text.head;
    return take(on_the_shelf(*text, shop, head.value("machine", std::string())));
}

}  // namespace seatwright::server
