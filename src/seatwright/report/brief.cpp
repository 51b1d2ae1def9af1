#include "seatwright/report/brief.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>

#include "seatwright/find/found_head.hpp"
#include "seatwright/job/of_head.hpp"
#include "seatwright/report/attitude.hpp"
#include "seatwright/report/head_time.hpp"
#include "seatwright/report/said_figures.hpp"
#include "seatwright/words/bare_figure.hpp"
#include "seatwright/words/english_report.hpp"

namespace seatwright::report {

namespace {

bool stops(const Notices& notices) {
    return plan::blocked(notices);
}

// What find says of one head.
Notices notices_of_head(const Notices& all, const std::string& head) {
    Notices own = all;
    std::erase_if(own.held_back, [&](const HeldBack& h) { return !h.head.empty() && h.head != head; });
    std::erase_if(own.warnings, [&](const Warning& w) { return plan::of_another_head(w, head); });
    return own;
}

bool disagrees(const Notices& notices) {
    return std::any_of(notices.held_back.begin(), notices.held_back.end(), [](const HeldBack& h) {
        return h.code == HeldCode::suspect || h.code == HeldCode::fit || h.code == HeldCode::way_round;
    });
}

Sentence of_valve(const std::optional<std::string>& valve, Sentence text) {
    return valve ? sentence<"of-valve">("valve"_is = *valve, "text"_is = std::move(text)) : text;
}

// What is blocked first, the one to act on, and what would free it.
struct Stop {
    Sentence reason, frees;
};

Stop first_stop(const Notices& notices) {
    for (const auto& held : notices.held_back) return {of_valve(held.valve, held.reason), held.frees};
    for (const auto& w : notices.warnings)
        if (w.severity == Severity::blocking) return {of_valve(w.valve, w.text), {}};
    return {};
}

// Of the only setup it stands at the head of its line.
Sentence stands(const hold::Setup& setup, bool alone) {
    const auto tilt = "tilt"_is = as_bare_degrees(setup.tilt);
    if (!is_swung(setup)) return alone ? sentence<"stands-at-alone">(tilt) : sentence<"stands-at">(tilt);
    const auto swing = "swing"_is = as_bare_degrees(setup.swing);
    return alone ? sentence<"stands-swung-alone">(tilt, swing) : sentence<"stands-swung">(tilt, swing);
}

// Whether a figure of this key was put in by a question or a template.
bool is_made_up(const hold::Hold& hold, std::string_view key) {
    return std::any_of(hold.inputs.begin(), hold.inputs.end(), [&](const auto& input) {
        return input.from == hold::From::made_up && std::string_view(input.what).starts_with(key);
    });
}

// A line before it is said.
struct Told {
    StageState state = StageState::open;
    Sentence answer, next, frees{};
};

void needs_you(Told& line, const Notices& notices) {
    if (!stops(notices)) return;
    line.state = StageState::needs_you;
    Stop stop = first_stop(notices);
    line.next = std::move(stop.reason);
    line.frees = std::move(stop.frees);
}

Sentence how_it_stands(const hold::Hold& hold) {
    if (hold.setups.size() == 1) return stands(hold.setups[0], true);
    List each{Join::nothing, {}};
    for (const auto& setup : hold.setups)
        each.items.emplace_back(
            sentence<"setup-stands">("setup"_is = setup.id, "stands"_is = stands(setup, false)));
    return sentence<"setups-stand">("count"_is = hold.setups.size(), "each"_is = std::move(each));
}

Told hold_line(const job::Job& job, const hold::Hold& hold) {
    Told line{StageState::ready, how_it_stands(hold), {}};
    if (hold.posts) {
        const auto so = "stands"_is = line.answer;
        const auto span = "span"_is = as_length(hold.posts->span);
        line.answer = is_made_up(hold, "head.bolt_holes") ? sentence<"posts-made-up">(so, span)
                                                          : sentence<"posts-apart">(so, span);
    }
    const bool off =
        hold.level && hold.level->set_tilt && std::abs(*hold.level->set_tilt) > job.fixture.plumb_limit;
    line.next = off && !hold.setups.empty()
                    ? sentence<"level-says">(
                          "tilt"_is = as_bare_degrees(hold.setups.front().tilt + *hold.level->set_tilt, 3))
                    : sentence<"load-the-head">();
    needs_you(line, hold);
    return line;
}

Told find_line(const job::Job& job, const find::Find& find, const std::string& head) {
    Told line{StageState::open, sentence<"no-guide-touched">(), sentence<"zero-the-readout">()};
    if (find.heads.empty()) return line;
    const find::FoundHead* found = find::found_head(find, head);
    if (found == nullptr && !head.empty()) return line;  // nothing is touched of the head asked for
    if (found == nullptr) found = &find.heads.back();
    std::optional<double> least;
    std::size_t touched = 0;
    std::optional<std::size_t> next;
    bool reached = true;
    for (const auto& setup : found->setups) {
        for (const auto& guide : setup.guides) touched += guide.touched ? 1u : 0u;
        if (setup.least_enter_probability)
            least = std::min(least.value_or(1.0), *setup.least_enter_probability);
        if (setup.least_enter_probability && *setup.least_enter_probability < job.find.enter_target) {
            reached = false;
            if (!next) next = setup.next_touch;
        }
    }
    if (touched == 0 && !least) return line;
    const Notices own = notices_of_head(find, found->head);
    const auto of = "head"_is = found->head;
    const auto count = "count"_is = touched;
    // A chance reckoned from touches that accuse each other is worth nothing: it is not said.
    line.answer = disagrees(own) ? sentence<"touches-disagree">(of, count)
                                 : sentence<"least-sure">(of, count, "chance"_is = chance_said(least));
    // A blind run is reckoned: nobody has touched this head, so that nothing of it is done.
    line.state = reached && touched > 0 ? StageState::done : StageState::ready;
    line.next = reached ? sentence<"enough-touches">()
                : next  ? sentence<"touch-guide">("guide"_is = job.head.valves[*next].id)
                        : sentence<"more-touches-no-help">();
    needs_you(line, own);
    return line;
}

Told shape_line(const job::Job& job, const shape::Shape& shape) {
    Told line{StageState::ready, {}, sentence<"check-width">()};
    std::size_t cut = 0, insert = 0, none = 0, unread = 0, low = 0, to_height = 0;
    double least = 1e300, most = 0;
    for (const auto& seat : shape.seats) {
        if (seat.decision == shape::Decision::insert) ++insert;
        if (seat.decision == shape::Decision::not_allowed) ++none;
        if (seat.decision == shape::Decision::not_measured) ++unread;
        if (seat.decision == shape::Decision::below_finish) ++low;
        if (seat.decision != shape::Decision::cut) continue;
        if (!seat.depth) {
            to_height += seat.finished_recession ? 1 : 0;
            continue;
        }
        ++cut;
        least = std::min(least, *seat.depth);
        most = std::max(most, *seat.depth);
    }
    List said{Join::nothing, {}};
    const auto add = [&](Sentence more) { said.items.emplace_back(std::move(more)); };
    if (cut > 0)
        add(sentence<"seats-deep">("count"_is = cut, "least"_is = as_bare_length(least),
                                   "most"_is = as_length(most)));
    else
        add(to_height > 0 ? sentence<"seats-to-height">("count"_is = to_height)
                          : sentence<"no-seat-to-cut">());
    if (cut > 0 && to_height > 0) add(sentence<"more-to-height">("count"_is = to_height));
    if (insert) add(sentence<"for-an-insert">("count"_is = insert));
    if (none) add(sentence<"not-allowed">("count"_is = none));
    if (unread) add(sentence<"not-measured">("count"_is = unread));
    if (low) add(sentence<"below-finish">("count"_is = low));
    if (to_height == 0 && job::of_head(job.readings.seats, shape.head).empty()) {
        line.state = StageState::open;
        add(sentence<"no-seat-read">("head"_is = shape.head));
        line.next = sentence<"measure-seats">();
    }
    line.answer = row(std::move(said));
    needs_you(line, shape);
    return line;
}

// All that is lacking are readings that find and shape ask for: cut waits for them.
bool waits_for_readings(const cut::Cut& cut) {
    const bool stopped = std::any_of(cut.warnings.begin(), cut.warnings.end(), [](const Warning& warning) {
        return warning.severity == Severity::blocking;
    });
    return !stopped && !cut.held_back.empty() &&
           std::all_of(cut.held_back.begin(), cut.held_back.end(), [](const HeldBack& held) {
               return held.code == HeldCode::not_measured || held.code == HeldCode::touch_first;
           });
}

void cut_needs_you(Told& line, const cut::Cut& cut) {
    needs_you(line, cut);
    if (waits_for_readings(cut)) line.state = StageState::open;
}

Told cut_line(const cut::Cut& cut) {
    Told line{StageState::open, sentence<"nothing-to-cut">(), sentence<"plan-depths">()};
    if (cut.seats.empty()) {
        if (stops(cut)) line.answer = sentence<"held-no-program">("count"_is = cut.held_back.size());
        cut_needs_you(line, cut);
        return line;
    }
    const auto [slow, fast] = std::minmax_element(cut.seats.begin(), cut.seats.end(),
                                                  [](const auto& a, const auto& b) { return a.rpm < b.rpm; });
    const Part speed =
        slow->rpm == fast->rpm
            ? Part(as_number(fast->rpm))
            : Part(sentence<"from-to">("low"_is = as_number(slow->rpm), "high"_is = as_number(fast->rpm)));
    const auto rpm = "rpm"_is = speed;
    const auto min = "min"_is = as_number(cut.seconds_head / 60, 1);
    const auto halts = "halts"_is = cut.halts_head;
    const std::size_t left = head_time(cut).in_no_file;
    const auto time = "time"_is = left == 0 ? sentence<"time-a-head">(rpm, min, halts)
                                            : sentence<"time-of-all">(rpm, min, halts, "left"_is = left);
    const auto programs = "count"_is = cut.programs.size();
    if (stops(cut)) {
        line.answer = sentence<"held-programs">(time, "held"_is = cut.held_back.size(), programs);
        cut_needs_you(line, cut);
        return line;
    }
    return {StageState::ready, sentence<"programs-checked">(time, programs), sentence<"run-dry">()};
}

Told prove_line(const prove::Proof& proof) {
    Told line{StageState::open, sentence<"nothing-measured">(), sentence<"trace-each">()};
    std::size_t judged = 0, failed = 0, undecided = 0;
    std::set<std::string> heads;
    const auto count = [&](const std::string& head, const prove::Judgement& j) {
        if (j.verdict == prove::Verdict::not_measured) return;
        ++judged;
        heads.insert(head);
        if (j.verdict == prove::Verdict::fail) ++failed;
        if (j.verdict == prove::Verdict::undecided) ++undecided;
    };
    for (const auto& seat : proof.seats)
        for (const auto& j : seat.judgements) count(seat.head, j);
    for (const auto& spread : proof.stem_spreads) count(spread.head, spread.judgement);
    if (judged == 0) return line;
    line.answer = sentence<"verdicts">("count"_is = judged, "heads"_is = heads.size(), "fail"_is = failed,
                                       "undecided"_is = undecided);
    line.state = proof.verdict == prove::Verdict::pass ? StageState::done
                 : failed > 0                          ? StageState::needs_you
                                                       : StageState::ready;
    line.next = proof.verdict == prove::Verdict::pass ? sentence<"print-and-sign">()
                : failed > 0                          ? sentence<"see-the-failed">()
                                                      : sentence<"measure-the-rest">();
    return line;
}

}  // namespace

const char* name_of(StageState state) {
    switch (state) {
        case StageState::open:
            return "open";
        case StageState::ready:
            return "ready";
        case StageState::needs_you:
            return "needs you";
        case StageState::done:
            return "done";
    }
    return "open";
}

std::vector<StageLine> brief(const job::Job& job, const plan::Plan& plan, const prove::Proof& proof,
                             const Speech& speech, const std::string& head) {
    const auto said = [&](const char* stage, const Told& told) {
        return StageLine{stage, told.state, in_words(told.answer, speech), in_words(told.next, speech),
                         in_words(told.frees, speech)};
    };
    return {said("hold", hold_line(job, plan.hold)), said("find", find_line(job, plan.find, head)),
            said("shape", shape_line(job, plan.shape)), said("cut", cut_line(plan.cut)),
            said("prove", prove_line(proof))};
}

void say_stopped(std::vector<StageLine>& lines, const std::vector<plan::Failure>& failures,
                 const Speech& speech) {
    for (const auto& failure : failures) {
        StageLine& line = lines[static_cast<std::size_t>(failure.stage)];
        line.state = StageState::needs_you;
        line.answer = in_words(sentence<"stopped">(), speech);
        line.next = in_words(plan::warning_of(failure).text, speech);
        line.frees.clear();
    }
}

std::string whole_next(const StageLine& line, const Speech& speech) {
    if (line.frees.empty()) return line.next;
    return in_words(sentence<"first-stop">("reason"_is = line.next, "frees"_is = line.frees), speech);
}

std::string text_of(const job::Job& job, const std::vector<StageLine>& lines, const Notices& notices,
                    const TextStyle& style) {
    std::string out = heading_text(job.title.empty() ? job.head.name : job.title, style.table);
    const std::string warnings = warnings_text(notices, style.speech(), style.table);
    if (!warnings.empty()) out += warnings + "\n";
    for (const auto& line : lines)
        out += fmt::format("{:<6} {:<10} {}\n", line.stage, name_of(line.state), line.answer);
    out += "\nNext:\n";
    for (const auto& line : lines)
        if (!line.next.empty())
            out += fmt::format("{:<6} {}\n", line.stage, whole_next(line, style.speech()));
    return out;
}

}  // namespace seatwright::report
