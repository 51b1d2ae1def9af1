#include "seatwright/batch/draw_forecast.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "seatwright/batch/batch.hpp"
#include "seatwright/batch/forecast_words.hpp"
#include "seatwright/job/kind_word.hpp"
#include "seatwright/papers/page/lettering.hpp"
#include "seatwright/report/show.hpp"
#include "seatwright/words/english_papers.hpp"

namespace seatwright::batch {

using namespace papers;

using namespace report;

namespace {

constexpr double letter_height = 2.5;  // mm
constexpr double histogram_height = 38, bar_height = 5.2, curve_height = 42;
constexpr double lowest_histogram = 26, of_its_width = 0.48;  // of a histogram that is less wide

constexpr double narrowest = 80;  // mm: on less a drawing tells the first of its figures alone

std::vector<Vec2> bar(double left, double right, double top, double floor) {
    return {{left, floor}, {left, top}, {right, top}, {right, floor}};
}

// A figure on the line under a histogram, and where its middle stands.
struct Foot {
    std::string words;
    double at;
    Ink ink;
};

double half_of(const Foot& foot) {
    return words_width(foot.words, letter_height) / 2;
}

// Figures too near to stand side by side are moved apart as little as can be, and stay on the paper.
void set_apart(std::vector<Foot>& feet, double width) {
    constexpr double between = 1.2;  // mm
    std::sort(feet.begin(), feet.end(), [](const Foot& a, const Foot& b) { return a.at < b.at; });
    for (Foot& foot : feet) foot.at = std::clamp(foot.at, half_of(foot), width - half_of(foot));
    const auto step = [&](std::size_t i) { return half_of(feet[i]) + between + half_of(feet[i + 1]); };
    const auto lacking = [&](std::size_t i) { return step(i) - (feet[i + 1].at - feet[i].at); };
    for (std::size_t i = 0; i + 1 < feet.size(); ++i)
        if (lacking(i) > 0) {
            const double half = lacking(i) / 2;
            feet[i].at -= half;
            feet[i + 1].at += half;
        }
    // What that pushed over an edge or onto a neighbour goes back, from the right and then from the left.
    for (std::size_t i = feet.size(); i-- > 0;)
        feet[i].at =
            std::min(feet[i].at, i + 1 < feet.size() ? feet[i + 1].at - step(i) : width - half_of(feet[i]));
    for (std::size_t i = 0; i < feet.size(); ++i)
        feet[i].at = std::max(feet[i].at, i > 0 ? feet[i - 1].at + step(i - 1) : half_of(feet[i]));
}

std::string share_words(double share) {
    return fmt::format("{:.1f} %", 100 * share);
}

}  // namespace

Drawing draw_distribution(const forecast::Characteristic& figure, double width, const Speech& speech) {
    const LengthUnit unit = speech.unit;
    const std::string name = fmt::format("{}, {}", figure.what, job::kind_word(figure.kind));
    std::string told = name;
    if (figure.mean)
        told += fmt::format(": mean {}, sd {} {}", length(figure.mean, unit), length(figure.sd, unit),
                            unit_name(unit));
    if (figure.pass_rate) told += ", within its limits " + percent(figure.pass_rate);
    const double height = std::clamp(of_its_width * width, lowest_histogram, histogram_height);
    Drawing out(width, height, name, told);
    out.text({0, letter_height}, name, letter_height, Anchor::start, Ink::line, true);
    if (figure.pass_rate)
        out.text({width, letter_height}, (width < narrowest ? "" : "within ") + percent(figure.pass_rate),
                 letter_height, Anchor::end);
    const double top = letter_height + 3, floor = height - letter_height - 2.5;
    if (figure.bars.empty()) {
        out.text({0, (top + floor) / 2},
                 in_words(figure.mean ? papers::sentence<"does-not-vary">()
                                      : papers::sentence<"no-height-planned">(),
                          speech),
                 letter_height, Anchor::start, Ink::faint);
        return out;
    }
    double low = figure.bars.front().from, high = figure.bars.back().to, most = 0;
    for (const auto& one : figure.bars) most = std::max(most, one.share);
    // A limit not too far out is shown.
    const double reach = high - low;
    for (const auto& limit : {figure.limit_low, figure.limit_high})
        if (limit && *limit > low - reach && *limit < high + reach) {
            low = std::min(low, *limit - 0.05 * reach);
            high = std::max(high, *limit + 0.05 * reach);
        }
    const auto x = [&](double value) { return width * (value - low) / (high - low); };
    for (const auto& one : figure.bars) {
        const double rise = most > 0 ? (floor - top) * one.share / most : 0;
        const double middle = (one.from + one.to) / 2;
        const bool outside = (figure.limit_high && middle > *figure.limit_high) ||
                             (figure.limit_low && middle < *figure.limit_low);
        out.polygon(bar(x(one.from), x(one.to), floor - rise, floor), outside ? Ink::warn : Ink::touch,
                    outside ? 0.6 : 0.25, {Ink::faint, 0.1});
    }
    out.line({0, floor}, {width, floor});
    std::vector<Foot> feet;
    for (const auto& limit : {figure.limit_low, figure.limit_high}) {
        if (!limit || *limit < low || *limit > high) continue;
        out.line({x(*limit), top - 1}, {x(*limit), floor + 1}, {Ink::warn, 0.35, "1.5 1"});
        feet.push_back({length(limit, unit), x(*limit), Ink::warn});
    }
    if (figure.mean) feet.push_back({length(figure.mean, unit), x(*figure.mean), Ink::line});
    set_apart(feet, width);
    for (const Foot& foot : feet)
        out.text({foot.at, height - 0.5}, foot.words, letter_height, Anchor::middle, foot.ink);
    return out;
}

Drawing draw_forecast_causes(const std::vector<forecast::Cause>& causes, double width, const Speech& speech) {
    const LengthUnit unit = speech.unit;
    std::string told = "Runout comes from";
    for (const auto& cause : causes)
        told += fmt::format("{} {} {}", &cause == causes.data() ? "" : ",", said_of(cause.cause, speech),
                            share_words(cause.share));
    const double rows = static_cast<double>(std::max<std::size_t>(1, causes.size()));
    Drawing out(width, rows * bar_height + 1, "What runout comes from", told);
    if (causes.empty())
        out.text({0, letter_height + 1}, in_words(papers::sentence<"nothing-makes-runout">(), speech),
                 letter_height, Anchor::start, Ink::faint);
    const bool narrow = width < narrowest;
    const double names = 32, figures = narrow ? 15 : 37;
    const double room = width - names - figures;
    double y = 0;
    for (const auto& cause : causes) {
        out.text({0, y + letter_height + 0.6}, said_of(cause.cause, speech), letter_height);
        out.polygon(bar(names, names + std::max(0.2, room * cause.share), y + 0.6, y + bar_height - 1),
                    Ink::touch, 0.35, {Ink::line, 0.15});
        const std::string alone =
            narrow ? "" : fmt::format("  ({} {} alone)", length(cause.rms, unit), unit_name(unit));
        out.text({width, y + letter_height + 0.6}, share_words(cause.share) + alone, letter_height,
                 Anchor::end);
        y += bar_height;
    }
    return out;
}

Drawing draw_forecast_changes(const forecast::Forecast& forecast, double width, const Speech& speech,
                              std::size_t most) {
    std::vector<const forecast::Change*> worth;
    double reach = 0;
    for (const auto& change : forecast.changes)
        if (change.brings() > gain_worth_telling) worth.push_back(&change);
    std::stable_sort(worth.begin(), worth.end(),
                     [](const auto* a, const auto* b) { return a->brings() > b->brings(); });
    worth.resize(std::min(worth.size(), most));
    struct Limits {
        double low, high;
    };
    const auto limits = [](const forecast::Change& c) {
        return c.as_measured ? Limits{c.as_measured->gain_low, c.as_measured->gain_high}
                             : Limits{c.gain_low, c.gain_high};
    };
    for (const auto* change : worth) reach = std::max({reach, change->brings(), limits(*change).high});
    std::string told = "What helps most";
    for (const auto* change : worth)
        told += fmt::format("{} {} {}", change == worth.front() ? ":" : ",", said_of(change->what, speech),
                            change_cells(*change, speech)[4]);
    // Its name, what it is and what it would be, on as many lines as that takes.
    struct Said {
        std::vector<std::string> cells, lines;
    };
    std::vector<Said> said;
    constexpr double row = 8.6, further = 3.4;
    double height = worth.empty() ? row + 1 : 1;
    for (const auto* change : worth) {
        auto cells = change_cells(*change, speech);
        auto lines = wrapped_lines(fmt::format("{}: {} → {}{}", cells[0], cells[1], cells[2],
                                               change->as_measured ? " (heads passed)" : ""),
                                   width - 1, letter_height);
        height += row + further * static_cast<double>(lines.size() - 1);
        said.push_back({std::move(cells), std::move(lines)});
    }
    Drawing out(width, height, "What helps most", told);
    if (worth.empty())
        out.text({0, letter_height + 1}, in_words(papers::sentence<"nothing-brings">(), speech),
                 letter_height, Anchor::start, Ink::faint);
    const double figures = 15, room = width - figures;
    double y = 0;
    for (std::size_t i = 0; i < worth.size(); ++i) {
        const auto* const change = worth[i];
        const auto& [cells, lines] = said[i];
        // What it costs where there is room for it.
        const std::string cost = change->cost ? cells.back() : "";
        if (!cost.empty() && words_width(lines.front() + cost, letter_height) + 6 < width)
            out.text({width, y + letter_height + 0.4}, cost, letter_height, Anchor::end);
        for (const std::string& line : lines) {
            out.text({0, y + letter_height + 0.4}, line, letter_height);
            y += further;
        }
        y -= further;
        const double top = y + letter_height + 1.4, floor = top + 2.6, middle = (top + floor) / 2;
        const auto x = [&](double gain) { return std::clamp(room * gain / reach, 0.0, room); };
        out.polygon(bar(0, std::max(0.2, x(change->brings())), top, floor), Ink::touch, 0.35,
                    {Ink::line, 0.15});
        const auto [from, to] = limits(*change);
        out.line({x(from), middle}, {x(to), middle}, {Ink::line, 0.3});
        out.text({width, floor}, cells[4], letter_height, Anchor::end);
        y += row;
    }
    return out;
}

Drawing draw_by_head(const forecast::Forecast& forecast, double width) {
    const auto& rates = forecast.by_head;
    const auto [least, most] = std::minmax_element(rates.begin(), rates.end());
    Drawing out(width, curve_height, "Good heads over the batch",
                rates.empty() ? std::string("not known")
                              : fmt::format("from {} at the first head to {} at the last",
                                            share_words(rates.front()), share_words(rates.back())));
    if (rates.empty()) return out;
    constexpr double left = 15, foot = 5;
    const double floor = curve_height - foot, top = 2;
    const double low = std::max(0.0, *least - 0.1 * (*most - *least) - 0.001),
                 high = std::min(1.0, *most + 0.001);
    const double range = std::max(1e-9, high - low);
    const auto at = [&](std::size_t h, double p) {
        const double n = static_cast<double>(std::max<std::size_t>(1, rates.size() - 1));
        return Vec2(left + (width - left) * static_cast<double>(h) / n,
                    floor - (floor - top) * (p - low) / range);
    };
    for (const double p : {low, (low + high) / 2, high}) {
        out.line({left, at(0, p).y()}, {width, at(0, p).y()}, {Ink::faint, 0.1});
        out.text({left - 1, at(0, p).y() + letter_height / 3}, share_words(p), letter_height, Anchor::end);
    }
    std::vector<Vec2> points;
    points.reserve(rates.size());
    for (std::size_t h = 0; h < rates.size(); ++h) {
        // A fresh blade: the curve is back where it began. A slow rise is none.
        const bool fresh = h > 0 && std::abs(rates[h] - rates.front()) < 1e-9;
        if (fresh && std::abs(rates[h] - rates[h - 1]) > 1e-6) {
            out.line({at(h, 0).x(), top}, {at(h, 0).x(), floor}, {Ink::faint, 0.2, "1 1"});
            if (points.size() > 1) out.polyline(points, {Ink::touch, 0.4});
            points.clear();
        }
        points.push_back(at(h, rates[h]));
    }
    if (points.size() == 1)
        out.disc(points.front(), 0.6, Ink::touch);
    else
        out.polyline(points, {Ink::touch, 0.4});
    out.text({left, curve_height - 0.6}, "head 1", letter_height);
    out.text({width, curve_height - 0.6}, fmt::format("head {}", rates.size()), letter_height, Anchor::end);
    return out;
}

}  // namespace seatwright::batch
