#include "seatwright/cut/interpret.hpp"

#include <fmt/format.h>

#include <array>
#include <cmath>

#include "seatwright/base/units.hpp"
#include "seatwright/cut/words.hpp"

namespace seatwright::cut {

namespace {

// G and M numbers are whole within this (NISTIR 6556, 3.3.2.1).
constexpr double whole_tolerance = 1e-4;
constexpr std::size_t longest_program = 200'000;  // lines
constexpr int most_m_words = 4;

// Modal groups of G words understood (NISTIR 6556 table 4); -1 = not understood.
int g_group(int g) {
    if (g == 4) return 0;
    if (g == 0 || g == 1 || g == 80 || g == 82) return 1;
    if (g >= 17 && g <= 19) return 2;
    if (g == 90 || g == 91) return 3;
    if (g == 93 || g == 94) return 5;
    if (g == 20 || g == 21) return 6;
    if (g == 40) return 7;
    if (g == 49) return 8;
    if (g == 98 || g == 99) return 10;
    if (g >= 54 && g <= 59) return 12;
    return -1;
}

int m_group(int m) {
    if (m == 0 || m == 1 || m == 2 || m == 30) return 4;
    if (m == 6) return 6;
    if (m >= 3 && m <= 5) return 7;
    return -1;
}

// The words of one line sorted by what they are.
struct Block {
    std::array<int, 13> g{};  // by modal group; -1 = none
    std::array<int, 8> m{};
    std::optional<double> f, p, r, s, t, x, y, z;
};

class Machine {
  public:
    explicit Machine(const job::Dialect& dialect) : dialect_(dialect) {
        if (dialect.tool_change.size() > 1)
            if (const auto line = read_line(dialect.tool_change, CommentStyle::parentheses_only))
                for (const Word& word : line->words)
                    if (word.letter == 'M') change_word_ = static_cast<int>(word.value);
    }

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
        Block block;
        if (sort(*line, block)) execute(block);
    }

    bool refuse(std::string text) {
        fault_ = std::move(text);
        return false;
    }

    bool sort(const ProgramLine& line, Block& block) {
        block.g.fill(-1);
        block.m.fill(-1);
        int m_words = 0;
        for (const Word& word : line.words) {
            if (word.letter == 'G' || word.letter == 'M') {
                const double nearest = std::round(word.value);
                if (word.value < 0 || nearest > 99 || std::abs(word.value - nearest) > whole_tolerance)
                    return refuse(
                        fmt::format("{}{} is not a word of a seat program", word.letter, word.value));
                const int code = static_cast<int>(nearest);
                const bool g = word.letter == 'G';
                const int group = g ? g_group(code) : m_group(code);
                if (group < 0)
                    return refuse(fmt::format("{}{} has no place in a seat program", word.letter, code));
                int& slot =
                    g ? block.g[static_cast<std::size_t>(group)] : block.m[static_cast<std::size_t>(group)];
                if (slot >= 0)
                    return refuse(fmt::format("{0}{1} and {0}{2} on one line", word.letter, slot, code));
                slot = code;
                if (!g && ++m_words > most_m_words) return refuse("more than four M words on one line");
                continue;
            }
            std::optional<double>* slot = slot_of(block, word.letter);
            if (slot == nullptr)
                return refuse(fmt::format("the letter {} has no place in a seat program", word.letter));
            if (*slot) return refuse(fmt::format("{} twice on one line", word.letter));
            *slot = word.value;
        }
        return true;
    }

    static std::optional<double>* slot_of(Block& block, char letter) {
        switch (letter) {
            case 'F':
                return &block.f;
            case 'P':
                return &block.p;
            case 'R':
                return &block.r;
            case 'S':
                return &block.s;
            case 'T':
                return &block.t;
            case 'X':
                return &block.x;
            case 'Y':
                return &block.y;
            case 'Z':
                return &block.z;
            default:
                return nullptr;
        }
    }

    double scale() const { return modes_.units == 20 ? mm_per_inch : 1; }

    // The order of execution is the language's own (NISTIR 6556 table 8).
    void execute(const Block& block) {
        if (block.g[5] >= 0) modes_.feed_mode = block.g[5];
        // F is in the length unit in force before this line.
        if (block.f) {
            if (*block.f < 0) return void(refuse("a negative feed"));
            modes_.feed = *block.f * scale() / 60;
        }
        if (block.s) {
            if (*block.s < 0) return void(refuse("a negative speed"));
            modes_.rpm = *block.s;
        }
        if (block.t) {
            if (*block.t < 0 || std::abs(*block.t - std::round(*block.t)) > whole_tolerance)
                return void(refuse("a tool number is a whole number"));
            chosen_ = static_cast<int>(std::round(*block.t));
        }
        if (block.m[6] >= 0) change_tool();
        if (block.m[7] >= 0) turn_spindle(block.m[7]);
        if (block.g[0] == 4) dwell(block);
        if (block.g[2] >= 0) modes_.plane = block.g[2];
        if (block.g[6] >= 0) modes_.units = block.g[6];
        if (block.g[12] >= 0) modes_.offset = block.g[12];
        if (block.g[3] >= 0) modes_.distance = block.g[3];
        if (block.g[10] >= 0) return_high_ = block.g[10] == 98;
        if (!fault_.empty()) return;
        motion(block);
        if (fault_.empty() && block.m[4] >= 0) stop(block.m[4]);
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
        if (block.x || block.y || block.z) return void(refuse("G4 together with a move"));
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
        const bool axes = block.x || block.y || block.z;
        if (block.g[1] >= 0) motion_ = block.g[1];
        if (motion_ == 82 && (axes || block.g[1] == 82)) return cycle(block);
        if (block.r) return void(refuse("R without a cycle"));
        if (block.p && block.g[0] != 4) return void(refuse("P without a dwell"));
        if (!axes) {
            if (block.g[1] == 0 || block.g[1] == 1) refuse(fmt::format("G{} without an axis", block.g[1]));
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

    void stop(int word) {
        if (word == 2 || word == 30) {
            ended_ = true;
            add(StepKind::end);
        } else if (word == change_word_) {
            change_tool();
        } else {
            add(StepKind::stop);
        }
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
    int change_word_ = 6;
    std::vector<Step> steps_;
    Position at_;
    Modes modes_;
    int motion_ = -1, chosen_ = 0, line_ = 0;
    bool return_high_ = true, ended_ = false;
    std::string fault_;
};

}  // namespace

tl::expected<std::vector<Step>, ProgramFault> interpret(std::string_view program,
                                                        const job::Dialect& dialect) {
    return Machine(dialect).run(program);
}

}  // namespace seatwright::cut
