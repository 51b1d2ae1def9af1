#include "shop.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>
#include <utility>

#include "generate.hpp"
#include "slips.hpp"

namespace seatwright::sim {

namespace {

constexpr int at_once = 25;           // heads the interpreter is started for once
constexpr double limit = 1.0;         // recession_max of every kind
constexpr double plumb = 0.15;        // deg; a lean beyond this is not the reading's rounding
constexpr double rounding = 0.005;    // of a limit
constexpr double unmoved = 0.05;      // a seat nearer than this to where it comes without the slip
constexpr double runout_limit = 0.5;  // of seats no pilot leads, as the job has it

struct Kind {
    const char* name;
    int rows, cylinders;
    double spacing, lean_deg, intake, exhaust;
};
constexpr Kind kinds[] = {{"one cylinder, upright", 1, 1, 100, 0, 44, 38},
                          {"two cylinders, wedge 8", 1, 2, 104, 8, 44, 38},
                          {"three cylinders, wedge 18", 1, 3, 110, 18, 44, 38},
                          {"four cylinders, upright", 1, 4, 96, 0, 42, 36},
                          {"four cylinders, wedge -12", 1, 4, 100, -12, 44, 38},
                          {"six cylinders, upright", 1, 6, 118, 0, 46, 40},
                          {"six cylinders, wedge 5", 1, 6, 126, 5, 46, 42},
                          {"one cylinder, four valves 20", 2, 1, 90, 20, 34, 29},
                          {"two cylinders, four valves 10", 2, 2, 92, 10, 34, 29},
                          {"two cylinders, four valves 22", 2, 2, 98, 22, 33, 28},
                          {"three cylinders, four valves 14", 2, 3, 94, 14, 34, 30},
                          {"four cylinders, four valves 17", 2, 4, 88, 17, 32, 28}};

using Said = std::set<std::pair<std::string, std::string>>;

struct Head {
    Work clean;
    std::vector<Slipped> slips;
    std::vector<std::size_t> at;  // where its works stand: clean, each slip alone, all of them
    bool stale_seen = false;
    std::vector<Said> told;  // what each work's first plan warned of
};

Case a_head(std::mt19937& random, int number, std::string& kind_name) {
    const Kind& kind = kinds[static_cast<std::size_t>(number) % std::size(kinds)];
    kind_name = kind.name;
    Case c = generated(random, number);
    const Case drawn = kind.rows == 1 ? wedge(kind.cylinders, kind.spacing, kind.lean_deg)
                                      : pent_roof(kind.cylinders, kind.spacing, kind.lean_deg);
    c.name = fmt::format("head {}, {}", number, kind.name);
    c.seats = drawn.seats, c.deck_at = drawn.deck_at;
    c.deck_low = drawn.deck_low, c.deck_high = drawn.deck_high;
    c.intake.head_diameter = kind.intake, c.exhaust.head_diameter = kind.exhaust;
    c.recession_max = limit;
    c.slide = 40;
    if (c.to_height) c.finish = 0.6;
    if (c.zero == ZeroBy::block && kind.lean_deg != 0) c.zero = ZeroBy::touch;
    draw_casting(c, random);
    read_casting(c, random);
    return c;
}

Work a_work(std::mt19937& random, Case c) {
    Work work;
    work.c = std::move(c);
    work.levels = work.digests = work.person.looks = true;
    work.person.zero_error = std::normal_distribution<double>(0, 0.01)(random);
    work.gauge_error = std::normal_distribution<double>(0, 0.005)(random);
    return work;
}

std::vector<Slipped> slips_of(std::mt19937& random, const Case& c, double rate, int& acts) {
    std::vector<Slipped> slips;
    const auto act = [&](Act what, std::size_t seat) {
        ++acts;
        if (std::uniform_real_distribution<double>(0, 1)(random) < rate)
            slips.push_back(drawn_slip(random, c, what, seat));
    };
    for (std::size_t s = 0; s < c.seats.size(); ++s)
        for (const Act what : {Act::height, Act::cleanup, Act::bore, Act::touch}) act(what, s);
    for (const Act what :
         {Act::drawing, Act::load, Act::post, Act::pilot, Act::zero, Act::program, Act::first})
        act(what, random() % c.seats.size());
    return slips;
}

Said held(const Work& work) {
    Said out;
    for (const HeldBack& entry : work.plan->cut.held_back)
        out.emplace(std::string(word_of(entry.code)), entry.valve.value_or(entry.setup));
    return out;
}

Said warned(const Work& work) {
    Said out;
    for (const Warning& warning : work.plan->notices().warnings)
        out.emplace(warning.code, warning.valve.value_or(""));
    return out;
}

std::string newly(const Said& now, const Said& before) {
    for (const auto& entry : now)
        if (before.count(entry) == 0) return entry.first;
    return {};
}

std::vector<std::string> harm(const Work& work) {
    std::vector<std::string> out;
    for (const std::string& wrong : work.wrong)
        if (wrong.rfind("program-", 0) == 0) out.push_back(wrong.substr(wrong.find(": ") + 2));
    for (const auto& [id, seat] : work.left.seats) {
        if (!seat.cut) continue;
        if (*seat.cut < -limit - rounding)
            out.push_back(fmt::format("seat {} ends {:.2f} deep", id, -*seat.cut));
        if (2 * seat.off_axis > runout_limit)
            out.push_back(fmt::format("seat {} lies {:.2f} off its guide", id, seat.off_axis));
    }
    return out;
}

// The level readings order a turn, or contradict each other: the person sets the head anew before anything.
bool leans(const Work& work) {
    const auto& level = work.plan->hold.level;
    if (!level) return false;
    const auto beyond = [](std::optional<double> lean) { return lean && std::abs(*lean) > radians(plumb); };
    return beyond(level->incline) || beyond(level->cant) || !level->contradictions.empty();
}

bool off_plan(const Work& work, const Work& clean) {
    for (const auto& [id, seat] : work.left.seats) {
        const auto meant = clean.left.seats.find(id);
        if (!seat.cut || meant == clean.left.seats.end() || !meant->second.cut) continue;
        if (std::abs(*seat.cut - *meant->second.cut) > unmoved) return true;
    }
    return false;
}

// Without the figures and names, so that alike ones count together.
std::string in_general(const std::string& sentence) {
    std::string out;
    std::size_t at = 0;
    while (at < sentence.size()) {
        const std::size_t end = std::min(sentence.find(' ', at), sentence.size());
        const std::string one = sentence.substr(at, end - at);
        out += (out.empty() ? "" : " ") +
               (one.find_first_of("0123456789") == std::string::npos ? one : std::string("."));
        at = end + 1;
    }
    return out;
}

// Yesterday's files: of the same head, clamped anew since, its touches taken anew.
bool stale_is_seen(const Work& clean) {
    Work old = clean;
    old.c.yaw += radians(0.15);
    old.c.name = clean.c.name;
    plan_first(old);
    const auto first_line = [](const cut::Program& p) { return p.text.substr(0, p.text.find('\n')); };
    for (std::size_t i = 0; i < std::min(old.plan->cut.programs.size(), clean.plan->cut.programs.size());
         ++i) {
        const cut::Program &was = old.plan->cut.programs[i], &is = clean.plan->cut.programs[i];
        if (was.text != is.text && first_line(was) == first_line(is)) return false;
    }
    return true;
}

struct Verdict {
    Fate fate = Fate::harmless;
    std::string code;
};

Verdict judged(const Head& head, std::size_t which, const Work& work, const Work& clean) {
    const Slipped& slip = head.slips[which];
    const Said& told = head.told[1 + which];
    if (slip.slip == Slip::stale) return {head.stale_seen ? Fate::at_machine : Fate::damage, "digest"};
    if (work.refused) return {Fate::refused, "fault"};
    if (leans(work) && !leans(clean)) return {Fate::said, "level"};
    const std::string held_code = newly(held(work), held(clean)),
                      warning = newly(warned(work), warned(clean));
    const std::string& code = held_code.empty() ? warning : held_code;
    if (!harm(work).empty()) {
        // What names the very seat before anything is cut is a catch.
        const std::string id = work.c.seats[slip.seat].id;
        for (const auto& [code_told, valve] : told)
            if (valve == id && head.told.front().count({code_told, valve}) == 0)
                return {Fate::said, code_told};
        return {Fate::damage, code};
    }
    if (work.stopped) return {Fate::at_machine, "look"};
    if (!held_code.empty()) return {Fate::held, code};
    if (!warning.empty()) return {Fate::said, code};
    return {off_plan(work, clean) ? Fate::off_plan : Fate::harmless, ""};
}

void enter(Account& account, const Slipped& slip, const Verdict& verdict, const Work& work) {
    ++account.fate[static_cast<std::size_t>(slip.slip)][static_cast<std::size_t>(verdict.fate)];
    if (!verdict.code.empty()) ++account.codes[fmt::format("{}: {}", word(slip.slip), verdict.code)];
    if (verdict.fate != Fate::damage) return;
    const std::string what = slip.slip == Slip::stale ? "the file looks like today's" : harm(work).front();
    const std::string where = fmt::format("{} at {}", word(slip.slip), word(slip.act));
    const std::string told = verdict.code.empty() ? "" : " (said: " + verdict.code + ")";
    ++account.let_through[where + ": " + in_general(what) + told];
    account.examples.push_back(fmt::format("{}: {} of {} ({:.3f}): {}{}", work.c.name, where,
                                           work.c.seats[slip.seat].id, slip.amount, what, told));
}

// Each seat that was cut is measured and judged.
void certify(Account& account, const Work& work) {
    std::string text = work.text;
    int cut = 0;
    for (const auto& [id, seat] : work.left.seats) {
        if (!seat.cut) continue;
        ++cut;
        text += fmt::format(
            "[[reading.proof]]\nhead = \"{}\"\nvalve = \"{}\"\nrunout = \"{:.3f} mm\"\nwidth = [\"{:.2f} "
            "mm\"]\n",
            work.c.head, id, 0.015 + 2 * seat.off_axis, work.c.of(work.c.seat(id)).width);
    }
    account.seats += cut;
    if (cut == 0) return;
    const auto job = read(text);
    if (!job) {
        account.doubted += cut;
        return;
    }
    for (const prove::SeatProof& proof : prove::judge(*job, work.c.head).seats)
        ++(proof.verdict == prove::Verdict::pass ? account.certified : account.doubted);
}

void tally(Account& account, const Head& head, const std::vector<Work>& works) {
    const Work& clean = works[head.at.front()];
    const Work& all = works[head.at.back()];
    for (const std::string& harmed : harm(clean))
        account.clean_harmed.push_back(clean.c.name + ": " + harmed);
    account.refused += all.refused ? 1 : 0;
    account.programs += static_cast<int>(all.run.size());
    account.moves += all.moves;
    account.halts += all.halts;
    if (!head.slips.empty() && !harm(all).empty()) ++account.harmed_with_slips;
    if (!all.refused) certify(account, all);
    for (std::size_t s = 0; s < head.slips.size(); ++s) {
        const Work& alone = works[head.at[1 + s]];
        enter(account, head.slips[s], judged(head, s, alone, clean), alone);
    }
}

}  // namespace

const char* word(Slip slip) {
    const char* words[] = {"unit",  "sign", "decimal",  "valve",   "head",  "row", "post hole",
                           "pilot", "zero", "reversed", "skipped", "stale", "rim"};
    return words[static_cast<std::size_t>(slip)];
}

const char* word(Fate fate) {
    const char* words[] = {"refused",  "held back", "said",  "seen at the machine",
                           "harmless", "off plan",  "damage"};
    return words[static_cast<std::size_t>(fate)];
}

Shop::Shop(unsigned seed, double slip_rate, std::string interpreter)
    : random_(seed), rate_(slip_rate), interpreter_(std::move(interpreter)) {}

void Shop::take(int heads) {
    for (int begin = 0; begin < heads; begin += at_once) {
        std::vector<Head> batch;
        std::vector<Work> works;
        const auto put = [&](Head& head, Work work) {
            plan_first(work);
            head.at.push_back(works.size());
            head.told.push_back(warned(work));
            works.push_back(std::move(work));
        };
        for (int i = begin; i < std::min(heads, begin + at_once); ++i) {
            Head head;
            std::string kind;
            head.clean = a_work(random_, a_head(random_, next_++, kind));
            ++account_.kinds[kind];
            ++account_.heads;
            head.slips = slips_of(random_, head.clean.c, rate_, account_.acts);
            account_.slips += static_cast<int>(head.slips.size());
            put(head, head.clean);
            Work all = head.clean;
            for (const Slipped& slip : head.slips) {
                if (slip.slip == Slip::stale) head.stale_seen = stale_is_seen(works[head.at.front()]);
                Work alone = head.clean;
                put_in(alone, slip);
                put(head, std::move(alone));
                if (!leans(works.back())) put_in(all, slip);
            }
            if (!head.slips.empty()) put(head, std::move(all));
            batch.push_back(std::move(head));
        }
        run_all(works, interpreter_);
        for (const Head& head : batch) tally(account_, head, works);
    }
}

}  // namespace seatwright::sim
