#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <set>
#include <string_view>

#include "seatwright/job/build.hpp"

namespace seatwright::job {
namespace {

constexpr std::array<std::string_view, 3> quantities_read{"runout", "width", "stem_height"};

std::optional<int> whole_of(const Value& t, const char* key) {
    const auto value = t.number_of(key);
    return value ? std::optional(static_cast<int>(*value)) : std::nullopt;
}

void read_touches(const Source& source, const Value& t, ForecastRules& out, Faults& faults) {
    const auto text = t.text_of("touches");
    if (!text) return;
    if (*text == "planned") {
        out.touches_planned = true;
        return;
    }
    int count = -1;
    const auto* end = text->data() + text->size();
    const auto [at, wrong] = std::from_chars(text->data(), end, count);
    if (wrong == std::errc() && at == end && count >= 0)
        out.touches = count;
    else
        faults.push_back(
            source.fault(t.line_of("touches"), "forecast.touches",
                         fmt::format("is \"{}\"; wanted: how many guides, from 0, or \"planned\"", *text)));
}

bool is_date(std::string_view text) {
    if (text.size() != 10 || text[4] != '-' || text[7] != '-') return false;
    for (const std::size_t i : {0U, 1U, 2U, 3U, 5U, 6U, 8U, 9U})
        if (text[i] < '0' || text[i] > '9') return false;
    const int month = (text[5] - '0') * 10 + text[6] - '0', day = (text[8] - '0') * 10 + text[9] - '0';
    return month >= 1 && month <= 12 && day >= 1 && day <= 31;
}

Gauge read_gauge(const Source& source, const Value& t, const std::string& path, Faults& faults) {
    Gauge out;
    out.name = t.text_of("name").value_or("");
    out.u = t.number_of("u");
    out.step = t.number_of("step");
    out.calibrated_until = t.text_of("calibrated_until").value_or("");
    if (!out.calibrated_until.empty() && !is_date(out.calibrated_until))
        faults.push_back(
            source.fault(t.line_of("calibrated_until"), path + ".calibrated_until",
                         fmt::format("is \"{}\"; wanted: a day as \"2027-03-31\"", out.calibrated_until)));
    const Value* reads = t.find("reads");
    for (std::size_t i = 0; reads && i < reads->items.size(); ++i) {
        const Value& item = reads->items[i];
        if (item.holds != Value::Holds::text) continue;  // the table of keys has said so
        if (std::find(quantities_read.begin(), quantities_read.end(), item.text) == quantities_read.end())
            faults.push_back(source.fault(
                item.line, fmt::format("{}.reads[{}]", path, i),
                fmt::format("is \"{}\"; wanted: \"runout\", \"width\" or \"stem_height\"", item.text)));
        out.reads.push_back(item.text);
    }
    return out;
}

}  // namespace

Built<ForecastRules> build_forecast(const std::vector<Source>& sources) {
    Built<ForecastRules> built;
    for (const auto& source : sources) {
        const Value* t = source.root->table_of("forecast");
        if (!t) continue;
        ForecastRules& out = built.value;
        out.heads = whole_of(*t, "heads");
        read_touches(source, *t, out, built.faults);
        out.rezero = t->flag_of("rezero").value_or(false);
        out.level_sd = t->number_of("level_sd");
        out.guide_angle_sd = t->number_of("guide_angle_sd");
        out.height_sd = t->number_of("height_sd");
        out.zero_sd = t->number_of("zero_sd");
        out.depth_sd = t->number_of("depth_sd");
        out.depth_wear = t->number_of("depth_wear");
        out.width_sd = t->number_of("width_sd");
        out.width_wear = t->number_of("width_wear");
        out.change_every = whole_of(*t, "change_every");
        out.pilot_runout = t->number_of("pilot_runout");
        out.share = t->number_of("share");
        out.gauge_u = t->number_of("gauge_u");
        out.width_gauge_u = t->number_of("width_gauge_u");
        out.height_gauge_u = t->number_of("height_gauge_u");
        break;
    }
    return built;
}

Built<std::vector<Gauge>> build_gauges(const std::vector<Source>& sources) {
    Built<std::vector<Gauge>> out;
    std::set<std::string> known;  // from the files before
    for (const auto& source : sources) {
        std::set<std::string> here;
        std::set<std::pair<std::string, std::string>> claimed;  // name and quantity
        std::size_t index = 0;
        for (const Value* t : source.root->tables_of("gauge")) {
            const std::string path = fmt::format("gauge[{}]", index++);
            Gauge gauge = read_gauge(source, *t, path, out.faults);
            if (gauge.name.empty()) gauge.name = fmt::format("gauge {}", index);
            // One name may stand several times, each entry for other quantities.
            const std::vector<std::string> all(quantities_read.begin(), quantities_read.end());
            for (const auto& what : gauge.reads.empty() ? all : gauge.reads)
                if (!claimed.insert({gauge.name, what}).second)
                    out.faults.push_back(
                        source.fault(t->line_of("name"), path + ".name",
                                     fmt::format("\"{}\" has two entries that read {}", gauge.name, what)));
            here.insert(gauge.name);
            if (known.count(gauge.name) == 0) out.value.push_back(std::move(gauge));
        }
        known.merge(here);
    }
    return out;
}

}  // namespace seatwright::job
