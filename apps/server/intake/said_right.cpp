#include "server/intake/said_right.hpp"

#include <algorithm>
#include <cmath>

#include "seatwright/job/doubts.hpp"
#include "seatwright/job/editor.hpp"
#include "seatwright/job/writer.hpp"
#include "seatwright/words/english_job.hpp"
#include "seatwright/words/in_words.hpp"
#include "server/jobs/stored_job.hpp"

namespace seatwright::server {

namespace {

constexpr std::size_t most_said = 20;  // more than the questions have sizes
constexpr double rounded = 0.013;      // mm; sizes of a new job are written to 0.01 mm or 0.001 in

// The figure of that key that the job asks about, if it is the one that was said.
const job::OddFigure* asked_about(const job::Job& job, const std::string& key, double value) {
    const auto& odd = job.figures.odd;
    const auto at = std::find_if(odd.begin(), odd.end(), [&](const auto& one) { return one.key == key; });
    return at != odd.end() && std::abs(at->value - value) <= rounded ? &*at : nullptr;
}

}  // namespace

store::Answer<std::string> with_sure(const std::string& text, const Json& said, LengthUnit unit,
                                     const std::string& shop) {
    if (said.is_null() || said.empty()) return text;
    const auto form = store::refuse(store::Why::bad, "sure is a list of {key, value}, a value a number");
    if (!said.is_array() || said.size() > most_said) return form;
    const auto job = read_with_shop(text, shop);
    if (!job) return text;  // what is wrong with it is told where it is made
    std::string list;
    for (const Json& one : said) {
        if (!one.is_object() || !one.contains("key") || !one["key"].is_string() || !one.contains("value") ||
            !one["value"].is_number())
            return form;
        const std::string key = one["key"];
        const double value = one["value"].get<double>() * (unit == LengthUnit::inch ? mm_per_inch : 1);
        const auto* odd = asked_about(*job, key, value);
        if (odd == nullptr)
            return store::refuse(
                store::Why::bad,
                in_words(job::sentence<"answer-not-asked">(
                             "key"_is = key, "value"_is = job::as_typed(value, job::Dimension::length)),
                         {unit}));
        job::Doubt doubt;
        doubt.key = key;
        doubt.value = job::as_typed(odd->value, odd->range->dimension);
        list += (list.empty() ? "" : ", ") + job::toml_string(in_words(job::sure_words(doubt), {unit}));
    }
    auto with = job::set_value(text, "sure", "[" + list + "]");
    if (!with) return store::refuse(store::Why::bad, with.error());
    return std::move(*with);
}

}  // namespace seatwright::server
