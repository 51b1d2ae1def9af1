#include "seatwright/report/brief.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>

#include "seatwright/find/found_head.hpp"
#include "seatwright/job/of_head.hpp"
#include "seatwright/report/show.hpp"

namespace seatwright::report {

namespace {

bool stops(const Notices& notices) {
    return plan::blocked(notices);
}

// What find says of one head: a sentence about one has it among its values.
Notices notices_of_head(const Notices& all, const std::string& head) {
    Notices own = all;
    std::erase_if(own.held_back, [&](const HeldBack& h) { return !h.head.empty() && h.head != head; });
    std::erase_if(own.warnings, [&](const Warning& w) {
        const auto& values = w.text.values();
        const auto of = std::find_if(values.begin(), values.end(),
                                     [](const NamedValue& value) { return value.name == "head"; });
        return of != values.end() && of->value != Part(head);
    });
    return own;
}

bool disagrees(const Notices& notices) {
    return std::any_of(notices.held_back.begin(), notices.held_back.end(), [](const HeldBack& h) {
        return h.code == HeldCode::suspect || h.code == HeldCode::fit || h.code == HeldCode::way_round;
    });
}

// The first blocking sentence, the one to act on.
std::string first_stop(const Notices& notices, const Speech& speech) {
    for (const auto& held : notices.held_back)
        return fmt::format("{}{}; what frees it: {}", held.valve ? *held.valve + ": " : std::string{},
                           in_words(held.reason, speech), in_words(held.frees, speech));
    for (const auto& w : notices.warnings)
        if (w.severity == Severity::blocking)
            return (w.valve ? *w.valve + ": " : std::string{}) + in_words(w.text, speech);
    return {};
}

std::string tilt_words(const hold::Setup& setup) {
    std::string words = fmt::format("tilt {}°", angle(setup.tilt));
    if (std::abs(setup.swing) > rad(0.005)) words += fmt::format(" swing {}°", angle(setup.swing));
    return words;
}

// Whether a figure of this key was put in by a question or a template.
bool is_made_up(const hold::Hold& hold, std::string_view key) {
    return std::any_of(hold.inputs.begin(), hold.inputs.end(), [&](const auto& input) {
        return input.from == hold::From::made_up && std::string_view(input.what).starts_with(key);
    });
}

StageLine hold_line(const job::Job& job, const hold::Hold& hold, LengthUnit unit) {
    StageLine line{"hold", StageState::ready, {}, {}};
    if (hold.setups.size() == 1) {
        line.answer = tilt_words(hold.setups[0]);
        line.answer[0] = 'T';
    } else {
        line.answer = fmt::format("{} setups", hold.setups.size());
        for (const auto& setup : hold.setups)
            line.answer += fmt::format("; {} {}", setup.id, tilt_words(setup));
    }
    if (hold.posts) {
        line.answer += fmt::format("; posts {} apart", length_with_unit(hold.posts->span, unit));
        if (is_made_up(hold, "head.bolt_holes")) line.answer += " (made up, not from you)";
    }
    const bool off =
        hold.level && hold.level->set_tilt && std::abs(*hold.level->set_tilt) > job.fixture.plumb_limit;
    line.next = off && !hold.setups.empty()
                    ? fmt::format("The level says: set the tilt to {}°, then read it again.",
                                  angle(hold.setups.front().tilt + *hold.level->set_tilt, 3))
                    : "Set the posts with a tape, load the head, clamp, set the tilt.";
    if (stops(hold)) line.state = StageState::needs_you, line.next = first_stop(hold, {unit});
    return line;
}

StageLine find_line(const job::Job& job, const find::Find& find, LengthUnit unit, const std::string& head) {
    StageLine line{"find", StageState::open, "No guide touched yet.", "Zero the readout at the datum guide."};
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
    // A chance reckoned from touches that accuse each other is worth nothing: it is not said.
    line.answer = disagrees(own)
                      ? fmt::format("Head {}: {} touched, and they do not agree.", found->head, touched)
                      : fmt::format("Head {}: {} touched; the least sure pilot enters with a chance of {}.",
                                    found->head, touched, percent(least));
    line.state = reached ? StageState::done : StageState::ready;
    line.next = reached
                    ? "Enough touches: go on to depth."
                    : (next ? fmt::format("Touch guide {}.", job.head.valves[*next].id)
                            : std::string("More touches will not help: a wider mouth or smaller tip will."));
    if (stops(own)) line.state = StageState::needs_you, line.next = first_stop(own, {unit});
    return line;
}

StageLine shape_line(const job::Job& job, const shape::Shape& shape, LengthUnit unit) {
    StageLine line{"shape", StageState::ready, {}, "Check width and contact on the first seat."};
    std::size_t cut = 0, insert = 0, none = 0, unread = 0, low = 0;
    double least = 1e300, most = 0;
    for (const auto& seat : shape.seats) {
        if (seat.decision == shape::Decision::insert) ++insert;
        if (seat.decision == shape::Decision::not_allowed) ++none;
        if (seat.decision == shape::Decision::not_measured) ++unread;
        if (seat.decision == shape::Decision::below_finish) ++low;
        if (seat.decision != shape::Decision::cut || !seat.depth) continue;
        ++cut;
        least = std::min(least, *seat.depth);
        most = std::max(most, *seat.depth);
    }
    if (cut > 0)
        line.answer =
            fmt::format("{} seats, depth {} to {}", cut, length(least, unit), length_with_unit(most, unit));
    else
        line.answer = "No seat to cut";
    if (insert) line.answer += fmt::format("; {} for an insert", insert);
    if (none) line.answer += fmt::format("; {} not allowed to be cut", none);
    if (unread) line.answer += fmt::format("; {} not measured", unread);
    if (low) line.answer += fmt::format("; {} already below the finished height", low);
    if (job::of_head(job.readings.seats, shape.head).empty()) {
        line.state = StageState::open;
        line.answer += fmt::format("; no seat of head {} read", shape.head);
        line.next = "Measure stem height, recession and wear of each seat.";
    }
    if (stops(shape)) line.state = StageState::needs_you, line.next = first_stop(shape, {unit});
    return line;
}

StageLine cut_line(const cut::Cut& cut, LengthUnit unit) {
    StageLine line{"cut", StageState::open, "Nothing to cut yet.", "Plan the depths first."};
    if (cut.seats.empty()) {
        if (stops(cut)) {
            line.state = StageState::needs_you;
            line.answer = fmt::format("{} held back, no program.", cut.held_back.size());
            line.next = first_stop(cut, {unit});
        }
        return line;
    }
    const auto [slow, fast] = std::minmax_element(cut.seats.begin(), cut.seats.end(),
                                                  [](const auto& a, const auto& b) { return a.rpm < b.rpm; });
    const std::string speed = slow->rpm == fast->rpm ? fmt::format("{:.0f}", fast->rpm)
                                                     : fmt::format("{:.0f} to {:.0f}", slow->rpm, fast->rpm);
    const std::string time =
        fmt::format("{} rpm, {:.1f} min and {} halt{} a head", speed, cut.seconds_head / 60, cut.halts_head,
                    cut.halts_head == 1 ? "" : "s");
    if (stops(cut)) {
        line.state = StageState::needs_you;
        line.answer = fmt::format("{}; {} held back, {} program{}", time, cut.held_back.size(),
                                  cut.programs.size(), cut.programs.size() == 1 ? "" : "s");
        line.next = first_stop(cut, {unit});
        return line;
    }
    line.answer = fmt::format("{}, {} program{} checked", time, cut.programs.size(),
                              cut.programs.size() == 1 ? "" : "s");
    line.state = StageState::ready;
    line.next = "Run the first program dry above the head, chips guarded, then cut one seat and measure it.";
    return line;
}

StageLine prove_line(const prove::Proof& proof) {
    StageLine line{"prove", StageState::open, "Nothing measured yet.", "Trace each seat after cutting."};
    std::size_t judged = 0, failed = 0, undecided = 0;
    std::set<std::string> heads;
    for (const auto& seat : proof.seats)
        for (const auto& j : seat.judgements) {
            if (j.verdict == prove::Verdict::not_measured) continue;
            ++judged;
            heads.insert(seat.head);
            if (j.verdict == prove::Verdict::fail) ++failed;
            if (j.verdict == prove::Verdict::undecided) ++undecided;
        }
    if (judged == 0) return line;
    line.answer = fmt::format("{} verdicts on {} head{}: {} fail, {} undecided", judged, heads.size(),
                              heads.size() == 1 ? "" : "s", failed, undecided);
    line.state = proof.verdict == prove::Verdict::pass ? StageState::done
                 : failed > 0                          ? StageState::needs_you
                                                       : StageState::ready;
    line.next = proof.verdict == prove::Verdict::pass ? "Print and sign the certificate."
                : failed > 0                          ? "See the failed seats and their likely causes."
                                                      : "Measure what is missing or undecided.";
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
                             LengthUnit unit, const std::string& head) {
    return {hold_line(job, plan.hold, unit), find_line(job, plan.find, unit, head),
            shape_line(job, plan.shape, unit), cut_line(plan.cut, unit), prove_line(proof)};
}

void say_stopped(std::vector<StageLine>& lines, const std::vector<plan::Failure>& failures) {
    for (const auto& failure : failures) {
        StageLine& line = lines[static_cast<std::size_t>(failure.stage)];
        line.state = StageState::needs_you;
        line.answer = "Not known: an error of the program.";
        line.next = in_words(plan::warning_of(failure).text, {});
    }
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
        if (!line.next.empty()) out += fmt::format("{:<6} {}\n", line.stage, line.next);
    return out;
}

}  // namespace seatwright::report
