#include "seatwright/cut/interpret.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "seatwright/base/units.hpp"
#include "seatwright/cut/block.hpp"
#include "seatwright/cut/control_lines.hpp"

namespace seatwright::cut {

namespace {

constexpr std::size_t longest_program = 200'000;  // lines

class Interpreter {
  public:
    Interpreter(const job::Dialect& dialect, const ControlLines& control)
        : dialect_(dialect), control_(control) {}

    tl::expected<std::vector<Step>, ProgramFault> run(std::string_view program) {
        std::size_t at = 0;
        while (at < program.size() && fault_.empty()) {
            const std::size_t end = std::min(program.find('\n', at), program.size());
            if (++line_ > static_cast<int>(longest_program)) fault_ = "the program is too long";
            if (fault_.empty()) take(program.substr(at, end - at));
            at = end + 1;
        }
        if (!fault_.empty()) return tl::unexpected(ProgramFault{line_, fault_});
        if (!ended_) return tl::unexpected(ProgramFault{line_, "the program has no end (M2 or M30)"});
        return std::move(steps_);
    }

  private:
    void take(std::string_view text) {
        const auto style = dialect_.comment == job::Dialect::Comment::semicolon
                               ? CommentStyle::semicolons_too
                               : CommentStyle::parentheses_only;
        auto line = read_line(text, style);
        if (!line) {
            fault_ = line.error();
            return;
        }
        if (line->percent) return;
        if (ended_ && !line->words.empty()) {
            fault_ = "something follows the program's end";
            return;
        }
        for (std::string& comment : line->comments) {
            Step& step = add(StepKind::comment);
            step.comment = std::move(comment);
        }
        if (line->words.empty() || control(line->words)) return;
        const auto block = block_of(*line);
        if (!block)
            fault_ = block.error();
        else
            execute(*block);
    }

    bool refuse(std::string text) {
        fault_ = std::move(text);
        return false;
    }

    // The shelf's own words, alone on their line.
    bool control(const std::vector<Word>& words) {
        const std::vector<ControlEvent> events = control_.events(words);
        for (const ControlEvent event : events) {
            Step& step = add(StepKind::control);
            step.event = event;
            if (event != ControlEvent::top) continue;
            step.to.z = at_.z = std::nullopt;
            motion_ = -1;  // whatever was in force before
        }
        if (!events.empty()) return true;
        if (const auto tool = control_.change(words)) {
            choose(*tool);
            if (fault_.empty()) change_tool();
            return true;
        }
        if (!control_.end(words)) return false;
        for (const Word& word : words)
            if (word.letter == 'M' && word.value == 5) turn_spindle(5);
        end();
        return true;
    }

    double scale() const { return modes_.units == 20 ? mm_per_inch : 1; }

    void choose(double tool) {
        if (tool < 0 || std::abs(tool - std::round(tool)) > whole_tolerance)
            return void(refuse("a tool number is a whole number"));
        chosen_ = static_cast<int>(std::round(tool));
    }

    // The order of execution is the language's own (NISTIR 6556 table 8).
    void execute(const Block& block) {
        if (block.g[g_feed_mode] >= 0) modes_.feed_mode = block.g[g_feed_mode];
        // F is in the length unit in force before this line.
        if (block.f) {
            if (*block.f < 0) return void(refuse("a negative feed"));
            modes_.feed = *block.f * scale() / 60;
        }
        if (block.s) {
            if (*block.s < 0) return void(refuse("a negative speed"));
            modes_.rpm = *block.s;
        }
        if (block.t) choose(*block.t);
        if (!fault_.empty()) return;
        if (block.m[m_change] >= 0) change_tool();
        if (block.m[m_spindle] >= 0) turn_spindle(block.m[m_spindle]);
        if (block.g[g_once] == 4) dwell(block);
        if (block.g[g_plane] >= 0) modes_.plane = block.g[g_plane];
        if (block.g[g_units] >= 0) modes_.units = block.g[g_units];
        length_offset(block);
        if (block.g[g_offset] >= 0) modes_.offset = block.g[g_offset];
        if (block.g[g_distance] >= 0) modes_.distance = block.g[g_distance];
        if (block.g[g_return] >= 0) return_high_ = block.g[g_return] == 98;
        if (!fault_.empty()) return;
        motion(block);
        if (!fault_.empty() || block.m[m_stopping] < 0) return;
        if (block.m[m_stopping] == 0)
            add(StepKind::stop);
        else
            end();
    }

    // With another length the same place of the spindle has another Z.
    void length_offset(const Block& block) {
        const int word = block.g[g_length];
        if (word != 43 && block.h) return void(refuse("H without G43"));
        if (word < 0) return;
        int asked = 0;
        if (word == 43) {
            if (!block.h || *block.h < 1 || std::abs(*block.h - std::round(*block.h)) > whole_tolerance)
                return void(refuse("G43 without the H of a cutter"));
            asked = static_cast<int>(std::round(*block.h));
        }
        if (modes_.length_offset && *modes_.length_offset != asked) at_.z = std::nullopt;
        modes_.length_offset = asked;
    }

    void change_tool() {
        Step& step = add(StepKind::tool_change);
        modes_.tool = chosen_;
        step.modes.tool = chosen_;
    }

    void turn_spindle(int word) {
        modes_.spindle = word == 3   ? Spindle::clockwise
                         : word == 4 ? Spindle::counterclockwise
                                     : Spindle::off;
        if (word != 5 && modes_.rpm <= 0) return void(refuse("the spindle is started without a speed"));
        add(StepKind::spindle);
    }

    void dwell(const Block& block) {
        if (!block.p || *block.p < 0) return void(refuse("G4 without its time"));
        if (block.axes()) return void(refuse("G4 together with a move"));
        add(StepKind::dwell).seconds = *block.p * (dialect_.dwell_in_milliseconds ? 1e-3 : 1);
    }

    std::optional<double> target(const std::optional<double>& word, const std::optional<double>& now) {
        if (!word) return now;
        const double value = *word * scale();
        if (modes_.distance != 91) return value;
        if (!now) {
            refuse("an incremental move from a place not known");
            return now;
        }
        return *now + value;
    }

    void move(StepKind kind, const Position& to) {
        Step& step = add(kind);
        step.from = at_;
        step.to = to;
        at_ = to;
    }

    void motion(const Block& block) {
        const bool axes = block.axes();
        const int word = block.g[g_motion];
        if (word >= 0) motion_ = word;
        if (motion_ == 82 && (axes || word == 82)) return cycle(block);
        if (block.r) return void(refuse("R without a cycle"));
        if (block.p && block.g[g_once] != 4) return void(refuse("P without a dwell"));
        if (!axes) {
            if (word == 0 || word == 1) refuse(fmt::format("G{} without an axis", word));
            return;
        }
        if (motion_ < 0 || motion_ == 80) return void(refuse("axis words without a motion"));
        if (motion_ == 1 && !(modes_.feed > 0)) return void(refuse("G1 without a feed"));
        Position to;
        to.x = target(block.x, at_.x);
        to.y = target(block.y, at_.y);
        to.z = target(block.z, at_.z);
        if (fault_.empty()) move(motion_ == 0 ? StepKind::rapid : StepKind::feed, to);
    }

    // G82: rapid over the place, rapid to R, feed to Z, dwell, rapid back (NISTIR 6556, 3.5.16.4).
    void cycle(const Block& block) {
        if (modes_.distance != 90) return void(refuse("a cycle in incremental mode"));
        if (modes_.plane != 17) return void(refuse("a cycle outside the XY plane"));
        if (!block.z || !block.r || !block.p) return void(refuse("G82 needs Z, R and P"));
        if (!at_.z) return void(refuse("a cycle from a height not known"));
        if (!(modes_.feed > 0)) return void(refuse("G82 without a feed"));
        const double bottom = *block.z * scale(), level = *block.r * scale(), old = *at_.z;
        if (level < bottom) return void(refuse("R below Z"));
        Position to = at_;
        if (old < level) {
            to.z = level;
            move(StepKind::rapid, to);
        }
        to.x = target(block.x, at_.x);
        to.y = target(block.y, at_.y);
        if (to.x != at_.x || to.y != at_.y) move(StepKind::rapid, to);
        if (*at_.z != level) {
            to.z = level;
            move(StepKind::rapid, to);
        }
        to.z = bottom;
        move(StepKind::feed, to);
        add(StepKind::dwell).seconds = *block.p * (dialect_.dwell_in_milliseconds ? 1e-3 : 1);
        to.z = return_high_ ? std::max(old, level) : level;
        move(StepKind::rapid, to);
    }

    void end() {
        ended_ = true;
        add(StepKind::end);
    }

    Step& add(StepKind kind) {
        Step step;
        step.kind = kind;
        step.line = line_;
        step.from = step.to = at_;
        step.modes = modes_;
        steps_.push_back(std::move(step));
        return steps_.back();
    }

    const job::Dialect& dialect_;
    const ControlLines& control_;
    std::vector<Step> steps_;
    Position at_;
    Modes modes_;
    int motion_ = -1, chosen_ = 0, line_ = 0;
    bool return_high_ = true, ended_ = false;
    std::string fault_;
};

}  // namespace

tl::expected<std::vector<Step>, ProgramFault> interpret(std::string_view program, const job::Dialect& dialect,
                                                        const std::optional<job::Float>& tool_float) {
    const auto control = ControlLines::of(dialect, tool_float);
    if (!control) return tl::unexpected(ProgramFault{0, control.error()});
    return Interpreter(dialect, *control).run(program);
}

}  // namespace seatwright::cut
