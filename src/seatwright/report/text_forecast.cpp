// forecast for a terminal: the pass rate first, then why not, what helps, how each figure lies, what it
// stands on.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "seatwright/job/kind_word.hpp"
#include "seatwright/report/forecast_words.hpp"
#include "seatwright/report/report.hpp"
#include "seatwright/report/show.hpp"

namespace seatwright::report {

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

// Of what was computed or drawn; an error below the last place is not none.
std::string within(double error) {
    constexpr double last_place = 1e-5;
    if (error < last_place / 2) return "to better than 0.001 %";
    return fmt::format("to {:.3f} %", 100 * error);
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
        table.row({said_of(c.cause), fmt::format("{:.1f} %", 100 * c.share), length(c.rms, style.unit)});
    return table.empty() ? "" : "\n" + table.text(style.table);
}

std::string changes_text(const forecast::Forecast& f, const TextStyle& style) {
    Table table({"what helps most", "from", "to", "good then", "gain", "95 %", "costs"});
    for (const auto& c : f.changes)
        if (c.brings() > gain_worth_telling) table.row(change_cells(c, style.unit));
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

std::vector<std::string> forecast_sentences(const job::Job& job, const forecast::Forecast& f) {
    if (!f.pass_rate) return {"How many heads will be good is not known."};
    std::string first =
        fmt::format("Of {} head{} {} will be good", f.heads, f.heads == 1 ? "" : "s", rate(f.pass_rate));
    if (f.pass_low && f.pass_high)
        first += fmt::format("; with what is not known of the shop, {} to {}", rate(f.pass_low, 1),
                             rate(f.pass_high, 1));
    std::vector<std::string> out;
    out.push_back(first +
                  fmt::format(" ({} {}).", f.draws ? "drawn" : "computed", within(f.pass_error.value_or(0))));
    out.push_back(f.verdict
                      ? fmt::format("As measured: pass {}, fail {}, undecided {}.", rate(f.verdict->pass),
                                    rate(f.verdict->fail), rate(f.verdict->undecided))
                      : "As measured: not known, a gauge is not known.");
    if (f.risk)
        out.push_back(
            fmt::format("Risk: a bad head passed {:.4f} %, a good one not passed {}, of these failed {}.",
                        100 * f.risk->consumer, rate(f.risk->producer), rate(f.risk->producer_fail, 3)));
    if (f.change_at_head) out.push_back(fmt::format("Change the blade before head {}.", *f.change_at_head));
    if (!f.touched.empty()) {
        std::string ids;
        for (const std::size_t v : f.touched) ids += (ids.empty() ? "" : ", ") + job.head.valves[v].id;
        out.push_back(fmt::format("Touched on every head: {}.", ids));
    }
    return out;
}

std::vector<std::string> change_cells(const forecast::Change& c, LengthUnit unit) {
    return {said_of(c.what),
            setting(c.from, c.unit, unit),
            setting(c.to, c.unit, unit),
            c.as_measured ? rate(c.as_measured->verdict.pass) + " passed" : rate(c.pass_rate),
            fmt::format("{:+.2f} %", 100 * c.brings()),
            c.as_measured ? between(c.as_measured->gain_low, c.as_measured->gain_high)
                          : between(c.gain_low, c.gain_high),
            cost_words(c)};
}

std::string said_of(const std::string& cause) {
    return cause == "attitude" ? "level of the head" : cause;
}

std::string cost_words(const forecast::Change& c) {
    if (!c.cost) return "–";
    if (c.cost->once && c.cost->seconds_once == 0) return "once, of the shelf";
    std::string out = c.cost->once ? fmt::format("once {:g} min", c.cost->seconds_once / 60)
                                   : fmt::format("{:.3g} s a head", c.cost->seconds_head);
    if (c.cost->amount) out += fmt::format(", {:.2f} {} the batch", *c.cost->amount, c.cost->currency);
    return out;
}

std::string best_change_sentence(const forecast::Forecast& f, LengthUnit unit) {
    if (!f.pass_rate) return "How many heads will be good is not known.";
    const auto best = std::find_if(f.changes.begin(), f.changes.end(),
                                   [](const forecast::Change& c) { return c.significant && !c.as_measured; });
    if (best == f.changes.end() || best->gain <= gain_worth_telling)
        return "Nothing the shop could change brings more good heads that are worth telling.";
    const auto cells = change_cells(*best, unit);
    std::string out = fmt::format("What helps most: {} {} instead of {}. {} of heads are then good, now {}.",
                                  cells[0], cells[2], cells[1], cells[3], rate(f.pass_rate));
    if (best->cost) out += fmt::format(" It costs {}.", cost_words(*best));
    return out;
}

std::vector<std::string> input_cells(const forecast::Input& input, LengthUnit unit) {
    return {input.what, figure(input.value, input.unit, unit), forecast::word(input.from)};
}

std::string text_of(const job::Job& job, const forecast::Forecast& f, const TextStyle& style) {
    std::string out = heading_text("Forecast", style.table);
    for (const std::string& sentence : forecast_sentences(job, f)) out += sentence + "\n";
    return out + characteristics_text(f, style) + causes_text(f, style) + changes_text(f, style) +
           heads_text(f, style) + inputs_text(f, style);
}

}  // namespace seatwright::report
