// forecast for a terminal: the pass rate first, then why not, what helps, how each figure lies, what it
// stands on.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "seatwright/batch/batch.hpp"
#include "seatwright/batch/forecast_words.hpp"
#include "seatwright/job/kind_word.hpp"
#include "seatwright/report/said_figures.hpp"
#include "seatwright/report/show.hpp"
#include "seatwright/words/english_report.hpp"

namespace seatwright::batch {

using namespace report;

namespace {

std::string rate(std::optional<double> p, int decimals = 2) {
    return p ? fmt::format("{:.{}f} %", 100 * *p, decimals) : "not known";
}

// Uncertainties may be smaller than what lengths are written to: two figures that say something.
std::string small_length(double mm, LengthUnit unit) {
    const double value = std::abs(unit == LengthUnit::inch ? mm / mm_per_inch : mm);
    if (value == 0 || value >= (unit == LengthUnit::inch ? 1e-3 : 1e-2)) return length(mm, unit);
    const int decimals = 1 - static_cast<int>(std::floor(std::log10(value)));
    return fmt::format("{:.{}f}", unit == LengthUnit::inch ? mm / mm_per_inch : mm, decimals);
}

std::string figure(double value, const std::string& unit, LengthUnit show) {
    if (unit == "mm") return fmt::format("{} {}", small_length(value, show), unit_name(show));
    if (unit.empty()) return fmt::format("{:g}", value);
    if (unit == "deg") return fmt::format("{:.4g} deg", value);
    return fmt::format("{:g} {}", value, unit);
}

Part name_of(const std::string& cause) {
    return cause == "attitude" ? Part(sentence<"level-of-head">()) : Part(cause);
}

// Of what was computed or drawn; an error below the last place is not none.
Sentence within(const forecast::Forecast& f) {
    constexpr double last_place = 1e-5;
    const double error = f.pass_error.value_or(0);
    const bool better = error < last_place / 2;
    const auto to = "error"_is = as_percent(100 * (better ? last_place : error), 3);
    if (better) return f.draws ? sentence<"drawn-better">(to) : sentence<"computed-better">(to);
    return f.draws ? sentence<"drawn-within">(to) : sentence<"computed-within">(to);
}

std::string between(double low, double high) {
    return fmt::format("{:+.2f} to {:+.2f}", 100 * low, 100 * high);
}

std::string setting(const forecast::Setting& of, const std::string& unit, LengthUnit show) {
    if (const auto* value = std::get_if<double>(&of)) return figure(*value, unit, show);
    return std::get<std::string>(of);
}

std::string characteristics_text(const forecast::Forecast& f, const TextStyle& style) {
    Table table({"seats, " + std::string(unit_name(style.unit)), "kind", "mean", "sd", "5 %", "95 %",
                 "lowest", "highest", "within", "Cpk"});
    for (const auto& c : f.characteristics)
        table.row({c.what, job::kind_word(c.kind), length(c.mean, style.unit), length(c.sd, style.unit),
                   length(c.p05, style.unit), length(c.p95, style.unit), length(c.limit_low, style.unit),
                   length(c.limit_high, style.unit), percent(c.pass_rate),
                   c.cpk ? fmt::format("{:.2f}", *c.cpk) : "–"});
    return table.empty() ? "" : "\n" + table.text(style.table);
}

std::string causes_text(const forecast::Forecast& f, const TextStyle& style) {
    Table table({"runout comes from", "share", "alone, " + std::string(unit_name(style.unit))});
    for (const auto& c : f.causes)
        table.row({said_of(c.cause, style.speech()), fmt::format("{:.1f} %", 100 * c.share),
                   length(c.rms, style.unit)});
    return table.empty() ? "" : "\n" + table.text(style.table);
}

std::string changes_text(const forecast::Forecast& f, const TextStyle& style) {
    Table table({"what helps most", "from", "to", "good then", "gain", "95 %", "costs"});
    for (const auto& c : f.changes)
        if (c.brings() > gain_worth_telling) table.row(change_cells(c, style.speech()));
    return table.empty() ? "" : "\n" + table.text(style.table);
}

std::string heads_text(const forecast::Forecast& f, const TextStyle& style) {
    if (f.by_head.size() < 2 || f.by_head.front() == f.by_head.back()) return "";
    Table table({"head", "good"});
    const std::size_t step = std::max<std::size_t>(1, f.by_head.size() / 10);
    for (std::size_t h = 0; h < f.by_head.size(); h += step)
        table.row({std::to_string(h + 1), rate(f.by_head[h])});
    return "\n" + table.text(style.table);
}

std::string inputs_text(const forecast::Forecast& f, const TextStyle& style) {
    Table table({"stands on", "value", "from"});
    for (const auto& input : f.inputs) table.row(input_cells(input, style.unit));
    return table.empty() ? "" : "\n" + table.text(style.table);
}

}  // namespace

std::vector<Sentence> forecast_sentences(const job::Job& job, const forecast::Forecast& f) {
    if (!f.pass_rate) return {sentence<"pass-rate-unknown">()};
    const bool with_shop = f.pass_low && f.pass_high;
    std::vector<Sentence> out;
    out.push_back(sentence<"will-be-good">(
        "heads"_is = f.heads, "rate"_is = rate_said(f.pass_rate),
        "between"_is = with_shop ? sentence<"between-for-the-shop">("low"_is = rate_said(f.pass_low, 1),
                                                                    "high"_is = rate_said(f.pass_high, 1))
                                 : Sentence(),
        "within"_is = within(f)));
    out.push_back(f.verdict ? sentence<"as-measured">("pass"_is = rate_said(f.verdict->pass),
                                                      "fail"_is = rate_said(f.verdict->fail),
                                                      "undecided"_is = rate_said(f.verdict->undecided))
                            : sentence<"gauge-not-known">());
    if (f.risk)
        out.push_back(sentence<"risk">("passed"_is = rate_said(f.risk->consumer, 4),
                                       "not_passed"_is = rate_said(f.risk->producer),
                                       "failed"_is = rate_said(f.risk->producer_fail, 3)));
    if (f.change_at_head) out.push_back(sentence<"change-blade">("head"_is = *f.change_at_head));
    if (!f.touched.empty()) {
        std::vector<std::string> ids;
        for (const std::size_t v : f.touched) ids.push_back(job.head.valves[v].id);
        out.push_back(sentence<"touched-on-every">("guides"_is = list_of(ids, Join::commas)));
    }
    return out;
}

std::vector<std::string> change_cells(const forecast::Change& c, const Speech& speech) {
    const LengthUnit unit = speech.unit;
    return {said_of(c.what, speech),
            setting(c.from, c.unit, unit),
            setting(c.to, c.unit, unit),
            c.as_measured ? rate(c.as_measured->verdict.pass) + " passed" : rate(c.pass_rate),
            fmt::format("{:+.2f} %", 100 * c.brings()),
            c.as_measured ? between(c.as_measured->gain_low, c.as_measured->gain_high)
                          : between(c.gain_low, c.gain_high),
            c.cost ? in_words(cost_of(*c.cost), speech) : "–"};
}

std::string said_of(const std::string& cause, const Speech& speech) {
    return in_words(name_of(cause), speech);
}

Sentence cost_of(const forecast::Change::Cost& cost) {
    if (cost.once && cost.seconds_once == 0) return sentence<"once-of-shelf">();
    constexpr int all_digits = 6, few_digits = 3;
    Sentence time = cost.once
                        ? sentence<"once-min">("min"_is = as_digits(cost.seconds_once / 60, all_digits))
                        : sentence<"each-head">("seconds"_is = as_digits(cost.seconds_head, few_digits));
    if (!cost.amount) return time;
    return sentence<"and-amount">("time"_is = std::move(time), "amount"_is = as_number(*cost.amount, 2),
                                  "currency"_is = cost.currency);
}

Sentence best_change(const forecast::Forecast& f, LengthUnit unit) {
    if (!f.pass_rate) return sentence<"pass-rate-unknown">();
    const auto best = std::find_if(f.changes.begin(), f.changes.end(),
                                   [](const forecast::Change& c) { return c.significant && !c.as_measured; });
    if (best == f.changes.end() || best->gain <= gain_worth_telling) return sentence<"nothing-brings">();
    const auto what = "what"_is = name_of(best->what);
    const auto from = "from"_is = setting(best->from, best->unit, unit);
    const auto to = "to"_is = setting(best->to, best->unit, unit);
    const auto good = "good"_is = rate_said(best->pass_rate);
    const auto now = "now"_is = rate_said(f.pass_rate);
    return best->cost
               ? sentence<"helps-most-costs">(what, to, from, good, now, "cost"_is = cost_of(*best->cost))
               : sentence<"helps-most">(what, to, from, good, now);
}

std::vector<std::string> input_cells(const forecast::Input& input, LengthUnit unit) {
    return {input.what, figure(input.value, input.unit, unit), forecast::word(input.from)};
}

std::string text_of(const job::Job& job, const forecast::Forecast& f, const TextStyle& style) {
    std::string out = heading_text("Forecast", style.table);
    for (const auto& words : in_words(forecast_sentences(job, f), style.speech())) out += words + "\n";
    return out + characteristics_text(f, style) + causes_text(f, style) + changes_text(f, style) +
           heads_text(f, style) + inputs_text(f, style);
}

}  // namespace seatwright::batch
