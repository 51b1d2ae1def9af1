#include "seatwright/cut/program.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "seatwright/base/append.hpp"
#include "seatwright/cut/program_words.hpp"

namespace seatwright::cut {

namespace {

// Feeds: a hundredth of a millimetre a minute, and as fine in inches.
constexpr int feed_decimals_mm = 2, feed_decimals_inch = 4;
constexpr int line_number_step = 10, line_number_limit = 99990;
constexpr const char* halt_word = "M0";
constexpr const char* word_by_hand = "hand";
constexpr const char* top_by_hand = "Bring the tool above everything, by hand";

class Writer {
  public:
    Writer(const job::Job& job, const hold::Setup& setup, const Route& route)
        : job_(job),
          setup_(setup),
          route_(route),
          inch_(job.program_unit() == LengthUnit::inch),
          offsets_(job.machine.zero == job::ZeroKept::offsets),
          aside_(beside_head(job, setup)) {
        for (const CutterZero& zero : route.zeros)
            if (zero.pilot_stands && zero.pilot) in_tool_[zero.cutter] = *zero.pilot;
        if (job.machine.tool_float && job.machine.tool_float->kind == job::Float::Kind::commanded)
            float_ = &*job.machine.tool_float;
    }

    std::string run() {
        for (const auto& sentence : in_lines(top_comments(job_, setup_, route_))) comment("{}", sentence);
        block("G17 {} G40 G49 G54 G80 G90 G94", inch_ ? "G20" : "G21");
        block("M5");
        to_top();
        halt(zero_question(job_, setup_, route_));
        for (std::size_t i = 0; i < route_.stops.size(); ++i) stop(i);
        leave();
        block("{}", job_.dialect.program_end);
        return std::move(text_);
    }

  private:
    template <class... Args>
    void block(fmt::format_string<Args...> form, Args&&... args) {
        if (job_.dialect.line_numbers) {
            // A very long program starts numbering anew rather than exceed five digits.
            number_ = number_ >= line_number_limit ? line_number_step : number_ + line_number_step;
            append(text_, "N{} ", number_);
        }
        append(text_, form, std::forward<Args>(args)...);
        text_.push_back('\n');
    }

    template <class... Args>
    void comment(fmt::format_string<Args...> form, Args&&... args) {
        const std::string words = comment_words(fmt::format(form, std::forward<Args>(args)...));
        const bool semicolon = job_.dialect.comment == job::Dialect::Comment::semicolon;
        ((text_ += semicolon ? "; " : "(") += words) += semicolon ? "\n" : ")\n";
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
    std::string z(double height) const { return length(job_.machine.z_sign * height); }
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

    // A halt after which the tool may stand anywhere: what moves next is a slow feed straight up.
    void halt(const Sentences& sentences) {
        for (const auto& sentence : in_lines(sentences)) comment("{}", sentence);
        block("{}", halt_word);
        halted_ = true;
    }

    void to_top() {
        if (!job_.dialect.top.empty())
            block("{}", job_.dialect.top);
        else
            halt({top_by_hand});
        halted_ = true;
    }
    // On the way to where nothing is done any more: without the words the clear height is what there is.
    void to_top_if_worded() {
        if (job_.dialect.top.empty()) return;
        block("{}", job_.dialect.top);
        halted_ = true;
    }

    void straight_up() {
        if (!halted_) return;
        block("G1 Z{} F{}", z(route_.clear), feed(job_.cut.enter_feed));
        halted_ = false;
    }

    // Away from the head, at its place if there is one and the way there is known; else by hand, in these
    // words.
    Sentences go_aside() {
        const bool can_go_up = tool_ != 0;  // what stands in the spindle was looked at
        const bool worded = !job_.dialect.top.empty();
        const bool by_hands = float_ != nullptr && free_ && centred_by_hand();
        if (aside_ && (can_go_up || (worded && !by_hands))) {
            if (by_hands || !worded) straight_up();
            if (by_hands) centred();
            to_top_if_worded();
            centred();
            across_to(aside_);
            return {};
        }
        to_top_if_worded();
        return {"Bring the tool above everything and away from the head, by hand"};
    }

    void take_in(const Tool& tool) {
        comment("{}", cutter_words(job_, tool));
        block("T{} {}", tool.number, job_.dialect.tool_change);
    }
    void to_clear_with_length(const Tool& tool) {
        block("G43 H{} G1 Z{} F{}", tool.number, z(route_.clear), feed(job_.cut.enter_feed));
        halted_ = false;
    }
    // No move goes down on a Z0, or with a length, before a person has seen by hand what it comes to.
    void first_look(const Tool& tool) {
        if (offsets_) {
            take_in(tool);
            block("G43 H{}", tool.number);  // so that the readout counts with its length
        }
        halt(look_at_tip(job_, route_, tool.number));
        if (offsets_)
            to_clear_with_length(tool);
        else
            straight_up();
    }

    bool needs_pilot(const Stop& stop) const {
        if (route_.pilot == job::PilotUse::planted || !stop.pilot) return false;
        const auto in = in_tool_.find(stop.tool.number);
        return in == in_tool_.end() || in->second != *stop.pilot;
    }
    void put_pilot_in(const Stop& stop) {
        in_tool_[stop.tool.number] = *stop.pilot;
        const auto& count = job_.pilots.at(*stop.pilot).count;
        const auto holders = std::count_if(in_tool_.begin(), in_tool_.end(),
                                           [&](const auto& one) { return one.second == *stop.pilot; });
        // Of a piece there is but so often; the last one put in is the one that stays.
        if (count && holders > *count)
            std::erase_if(in_tool_, [&](const auto& one) {
                return one.second == *stop.pilot && one.first != stop.tool.number;
            });
    }

    // Cutter and pilots as that seat needs them; before every cutter's first move its height is looked at.
    void change(const Stop& stop) {
        const bool cutter = stop.tool.number != tool_, pilot = needs_pilot(stop);
        const bool plants = tool_ == 0 && route_.pilot == job::PilotUse::planted && !planted_for_zero(route_);
        if (!cutter && !pilot) return;
        Sentences asks;
        if (pilot || plants) asks = go_aside();
        if (cutter && offsets_ && tool_ != 0) {
            if (job_.dialect.top.empty() && asks.empty()) asks = {top_by_hand};
            if (!pilot && !plants) to_top_if_worded();
        }
        const Sentences words = plants  ? plant_now(job_, route_)
                                : pilot ? put_pilot(job_, stop)
                                        : Sentences{};
        asks.insert(asks.end(), words.begin(), words.end());
        if (!asks.empty()) halt(asks);
        if (pilot) put_pilot_in(stop);
        tool_ = stop.tool.number;
        if (cutter && looked_.insert(tool_).second) return first_look(stop.tool);
        if (cutter && offsets_) {
            take_in(stop.tool);
            to_clear_with_length(stop.tool);
        } else {
            straight_up();
        }
    }

    // The float's words; those of a hand are asked for in one halt, the tool staying where it is.
    void float_to(std::initializer_list<const std::string*> words, const char* sentence) {
        bool hand = false;
        for (const std::string* word : words) {
            if (*word == word_by_hand)
                hand = true;
            else if (!word->empty() && *word != "self")
                block("{}", *word);
        }
        if (!hand) return;
        comment("{}", sentence);
        block("{}", halt_word);
    }
    // Without a pilot nothing leads a free tool: it stays as it is on the way across.
    void free() {
        if (route_.pilot == job::PilotUse::none) return;
        if (float_ != nullptr && !free_) float_to({&float_->free}, "Free the float");
        free_ = true;
    }
    void lock() {
        if (float_ == nullptr || !job_.machine.lock_to_cut || route_.pilot == job::PilotUse::none) return;
        float_to({&float_->lock}, "Lock the float where it stands");
        free_ = false;
    }
    bool centred_by_hand() const {
        return float_->centre == word_by_hand ||
               (float_->lock == word_by_hand &&
                (float_->centre != "self" || route_.pilot == job::PilotUse::none));
    }
    void centred() {
        if (float_ == nullptr || !free_) return;
        free_ = false;
        // Springs that bring it back hold it well enough on the way across: no halt for that.
        if (float_->centre == "self" && float_->lock == word_by_hand && route_.pilot != job::PilotUse::none)
            return;
        const bool asks = float_->centre == word_by_hand;
        // Locked by a word it is centred before: off its centre it would be held there.
        if (asks && float_->lock != word_by_hand) {
            float_to({&float_->centre}, "Centre the float");
            return float_to({&float_->lock}, "");
        }
        float_to({&float_->centre, &float_->lock}, asks ? "Centre the float and lock it" : "Lock the float");
    }

    void stop(std::size_t place) {
        const Stop& stop = route_.stops[place];
        change(stop);
        comment("valve {}, seat {} of {}", stop.id, place + 1, route_.stops.size());
        straight_up();
        centred();
        block("G0 X{} Y{}", length(stop.at.x()), length(stop.at.y()));
        way_in(stop);
        cut(stop);
        way_out(stop);
        if (const std::string up = z(route_.clear); up != z(stop.over_mouth)) block("G0 Z{}", up);
        if (route_.measure_after == place) measure(place + 1 == route_.stops.size());
    }

    void way_in(const Stop& stop) {
        if (stop.over_mouth < route_.clear) block("G1 Z{} F{}", z(stop.over_mouth), feed(approach_feed));
        free();
        if (stop.entry_rpm > 0) block("S{} M3", number(stop.entry_rpm, 3));
        if (stop.approach < stop.over_mouth) block("G1 Z{} F{}", z(stop.approach), feed(job_.cut.enter_feed));
        lock();
    }

    void cut(const Stop& stop) {
        block("S{} M3", number(stop.rpm, 3));
        if (job_.machine.spin_up > 0) block("G4 P{}", dwell(job_.machine.spin_up));
        if (stop.finish_from < stop.approach) block("G1 Z{} F{}", z(stop.finish_from), feed(stop.feed));
        block("G1 Z{} F{}", z(stop.z), feed(stop.finish_feed));
        block("G4 P{}", dwell(stop.dwell_seconds));
        block("G1 Z{} F{}", z(stop.z + slow_lift), feed(stop.finish_feed));
        block("M5");
        if (job_.machine.spin_down > 0) block("G4 P{}", dwell(job_.machine.spin_down));
    }

    void way_out(const Stop& stop) {
        free();
        const double loose = std::min(stop.z + slow_lift + break_loose, stop.over_mouth);
        block("G1 Z{} F{}", z(loose), feed(std::min(break_loose_feed, job_.cut.enter_feed)));
        if (loose < stop.over_mouth) block("G1 Z{} F{}", z(stop.over_mouth), feed(job_.cut.enter_feed));
        centred();
    }

    void across_to(const std::optional<Vec2>& place) {
        if (place) block("G0 X{} Y{}", length(place->x()), length(place->y()));
    }

    void measure(bool last) {
        to_top_if_worded();
        across_to(job_.machine.measure_at);
        const Sentences sentences = measure_first(job_, route_);
        if (!last) return halt(sentences);
        for (const auto& sentence : in_lines(sentences)) comment("{}", sentence);
    }

    // A file that ends with a seat to be measured stays there.
    void leave() {
        if (!route_.stops.empty() && route_.measure_after == route_.stops.size() - 1) return;
        to_top_if_worded();
        across_to(job_.machine.load_at);
    }

    const job::Job& job_;
    const hold::Setup& setup_;
    const Route& route_;
    bool inch_, offsets_;
    const job::Float* float_ = nullptr;  // only where words or hands move it
    bool free_ = true;                   // not known to be centred and locked
    bool halted_ = false;
    std::optional<Vec2> aside_;  // where pilots are changed
    int tool_ = 0;
    std::map<int, std::size_t> in_tool_;  // cutter: pilot known to stand in it
    std::set<int> looked_;                // cutters whose height was looked at
    int number_ = 0;
    std::string text_;
};

// A block without its line number and blanks at its ends.
std::string_view bare(std::string_view line) {
    if (!line.empty() && line.front() == 'N') {
        const std::size_t blank = line.find(' ');
        line.remove_prefix(blank == std::string_view::npos ? line.size() : blank + 1);
    }
    return line;
}

}  // namespace

double written_tolerance(const job::Job& job) {
    const bool inch = job.program_unit() == LengthUnit::inch;
    const double last = std::pow(10.0, -(inch ? job.dialect.decimals_inch : job.dialect.decimals_mm));
    // Half the last decimal, and a little for the conversion itself.
    return 0.5 * last * (inch ? mm_per_inch : 1) + 1e-9;
}

std::string write_program(const job::Job& job, const hold::Setup& setup, const Route& route) {
    return Writer(job, setup, route).run();
}

std::string as_draft(const job::Job& job, const std::string& program) {
    const bool semicolon = job.dialect.comment == job::Dialect::Comment::semicolon;
    const std::string said = comment_words("Draft: for looking and simulation, not to be run");
    const std::string first = (semicolon ? "; " + said : "(" + said + ")");
    return fmt::format("{}\n{}\n{}\n{}", first, halt_word, job.dialect.program_end, program);
}

int halts_of(const std::string& program) {
    int halts = 0;
    for (std::size_t at = 0; at < program.size();) {
        const std::size_t end = std::min(program.find('\n', at), program.size());
        if (bare(std::string_view(program).substr(at, end - at)) == halt_word) ++halts;
        at = end + 1;
    }
    return halts;
}

}  // namespace seatwright::cut
