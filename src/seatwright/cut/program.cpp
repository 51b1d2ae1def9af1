#include "seatwright/cut/program.hpp"

#include <fmt/format.h>

#include <cmath>
#include <iterator>

namespace seatwright::cut {

namespace {

// Feeds: a hundredth of a millimetre a minute, and as fine in inches.
constexpr int feed_decimals_mm = 2, feed_decimals_inch = 4;
// Comments are cut off here: the whole line stays well inside the language's 256 characters.
constexpr std::size_t longest_comment = 160;
constexpr int line_number_step = 10, line_number_limit = 99990;

class Writer {
  public:
    Writer(const job::Job& job, const hold::Setup& setup, const Route& route)
        : job_(job), setup_(setup), route_(route), inch_(job.program_unit() == LengthUnit::inch) {}

    std::string run() {
        top();
        block("G0 Z{}", length(route_.clear));
        int tool = 0;
        double rpm = 0;
        std::size_t place = 0;
        for (const Stop& stop : route_.stops) {
            if (stop.tool.number != tool) {
                change(stop.tool, tool != 0);
                tool = stop.tool.number;
                rpm = 0;
            }
            if (stop.rpm != rpm) block("S{} M3", number(stop.rpm, 3));
            rpm = stop.rpm;
            seat(stop, ++place);
        }
        block("M5");
        block("{}", job_.dialect.program_end);
        return fmt::to_string(text_);
    }

  private:
    template <class... Args>
    void block(fmt::format_string<Args...> form, Args&&... args) {
        if (job_.dialect.line_numbers) {
            // A very long program starts numbering anew rather than exceed five digits.
            number_ = number_ >= line_number_limit ? line_number_step : number_ + line_number_step;
            fmt::format_to(std::back_inserter(text_), "N{} ", number_);
        }
        fmt::format_to(std::back_inserter(text_), form, std::forward<Args>(args)...);
        text_.push_back('\n');
    }

    template <class... Args>
    void comment(fmt::format_string<Args...> form, Args&&... args) {
        const std::string words = comment_words(fmt::format(form, std::forward<Args>(args)...));
        const bool semicolon = job_.dialect.comment == job::Dialect::Comment::semicolon;
        text_.append(std::string_view(semicolon ? "; " : "("));
        text_.append(words);
        text_.append(std::string_view(semicolon ? "\n" : ")\n"));
    }

    static std::string number(double value, int most_decimals) {
        std::string digits = fmt::format("{:.{}f}", value, most_decimals);
        if (digits.find('.') != std::string::npos) {
            digits.erase(digits.find_last_not_of('0') + 1);
            if (digits.back() == '.') digits.pop_back();
        }
        return digits == "-0" ? "0" : digits;
    }

    std::string length(double mm) const {
        const int decimals = inch_ ? job_.dialect.decimals_inch : job_.dialect.decimals_mm;
        std::string digits = fmt::format("{:.{}f}", inch_ ? mm / mm_per_inch : mm, decimals);
        if (digits[0] == '-' && digits.find_first_not_of("-0.") == std::string::npos) digits.erase(0, 1);
        return digits;
    }
    std::string feed(double mm_per_second) const {
        const double per_minute = 60 * mm_per_second / (inch_ ? mm_per_inch : 1);
        return fmt::format("{:.{}f}", per_minute, inch_ ? feed_decimals_inch : feed_decimals_mm);
    }
    // Never shorter than asked: up to the next hundredth of a second.
    std::string dwell(double seconds) const {
        const double hundredths = std::ceil(seconds * 100 - 1e-6);
        return job_.dialect.dwell_in_milliseconds ? fmt::format("{:.0f}", hundredths * 10)
                                                  : fmt::format("{:.2f}", hundredths / 100);
    }

    const std::string& valve(std::size_t index) const { return job_.head.valves[index].id; }

    void top() {
        const char* unit = inch_ ? "in" : "mm";
        comment("Seatwright: {}, setup {}", job_.title, setup_.id);
        comment("Tilt {:.3f} deg, swing {:.3f} deg", deg(setup_.tilt), deg(setup_.swing));
        comment("X0 Y0: the readout zeroed over guide {}", valve(setup_.datum));
        comment("Z0: {}; set anew for each cutter", z_zero_words(job_, valve(setup_.datum)));
        if (route_.from_touches)
            comment("X, Y: positions found from the touches on head {}", route_.head);
        else
            comment("X, Y: the map, from the drawing; no guide of this setup was touched");
        comment("Units {}; clear height Z{}; feeds a minute", unit, length(route_.clear));
        for (const hold::Held& held : setup_.valves)
            if (!held.reachable)
                comment("Caution: guide {} stands {:.3f} deg off plumb, more than allowed", valve(held.valve),
                        deg(held.plumb_error));
        comment("Keep hands off the tool; glasses on; run it above the work first");
        block("G17 {} G40 G49 G54 G80 G90 G94{}", inch_ ? "G20" : "G21",
              job_.dialect.canned_cycles ? " G98" : "");
    }

    void change(const Tool& tool, bool running) {
        const char* unit = inch_ ? "in" : "mm";
        if (running) block("M5");
        comment("cutter {}: {}, blades set to {} {}", tool.number, job_.cutters[tool.cutter].name,
                length(tool.blade_setting), unit);
        block("T{} {}", tool.number, job_.dialect.tool_change);
    }

    void seat(const Stop& stop, std::size_t place) {
        comment("valve {}, seat {} of {}", stop.id, place, route_.stops.size());
        const std::string x = length(stop.at.x()), y = length(stop.at.y());
        block("G0 X{} Y{}", x, y);
        if (stop.entry_top < route_.clear) block("G1 Z{} F{}", length(stop.entry_top), feed(approach_feed));
        block("G1 Z{} F{}", length(stop.entry_end), feed(pilot_entry_feed));
        if (stop.cut_start < stop.entry_end) block("G1 Z{} F{}", length(stop.cut_start), feed(approach_feed));
        if (job_.dialect.canned_cycles) {
            block("G82 X{} Y{} Z{} R{} P{} F{}", x, y, length(stop.z), length(stop.cut_start),
                  dwell(stop.dwell_seconds), feed(stop.feed));
            block("G80");
        } else {
            block("G1 Z{} F{}", length(stop.z), feed(stop.feed));
            block("G4 P{}", dwell(stop.dwell_seconds));
        }
        block("G0 Z{}", length(route_.clear));
    }

    const job::Job& job_;
    const hold::Setup& setup_;
    const Route& route_;
    bool inch_;
    int number_ = 0;
    fmt::memory_buffer text_;
};

}  // namespace

std::string z_zero_words(const job::Job& job, const std::string& datum) {
    switch (job.depth.from) {
        case job::DepthFrom::deck:
            return fmt::format(
                "the cutter's gauge circle level with the deck where the guide axis of {} meets it{}", datum,
                job.depth.deck_cut > 0 ? ", the deck cut before" : "");
        case job::DepthFrom::datum:
            return fmt::format("the cutter's gauge circle level with the seat of {} before cutting", datum);
        case job::DepthFrom::finished:
        case job::DepthFrom::touch:
            break;
    }
    return fmt::format("the cutter touching the old seat of {}, the other seats from there by the drawing",
                       datum);
}

std::string comment_words(std::string_view words) {
    std::string safe;
    for (const char c : words) {
        if (safe.size() >= longest_comment) break;
        if (c == '(' || c == '[' || c == '{')
            safe.push_back('[');
        else if (c == ')' || c == ']' || c == '}')
            safe.push_back(']');
        else if (c == ';')
            safe.push_back(',');
        else
            safe.push_back(c >= ' ' && c <= '~' ? c : '?');
    }
    return safe;
}

double written_tolerance(const job::Job& job) {
    const bool inch = job.program_unit() == LengthUnit::inch;
    const double last = std::pow(10.0, -(inch ? job.dialect.decimals_inch : job.dialect.decimals_mm));
    // Half the last decimal, and a little for the conversion itself.
    return 0.5 * last * (inch ? mm_per_inch : 1) + 1e-9;
}

std::string write_program(const job::Job& job, const hold::Setup& setup, const Route& route) {
    return Writer(job, setup, route).run();
}

}  // namespace seatwright::cut
