#include "seatwright/papers/certificate/certificate_parts.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <map>

#include "seatwright/job/kind_word.hpp"
#include "seatwright/papers/certificate/certificate_rows.hpp"
#include "seatwright/papers/certificate/certificate_words.hpp"
#include "seatwright/papers/drawings/verdict_mark.hpp"
#include "seatwright/report/report.hpp"
#include "seatwright/report/show.hpp"
#include "seatwright/words/english_papers.hpp"

namespace seatwright::papers {

using namespace report;

namespace {

// Seats or heads of one session named one by one.
constexpr std::size_t names_listed = 8;

Part day_said(const std::string& day) {
    return day.empty() ? Part(sentence<"unknown-day">()) : Part(day);
}

// Of many names the first, and how many more.
Part some_of(std::vector<std::string> names) {
    if (names.size() <= names_listed) return list_of(names, Join::commas);
    const std::size_t more = names.size() - names_listed;
    names.resize(names_listed);
    return sentence<"and-more">("names"_is = list_of(names, Join::commas), "more"_is = more);
}

std::string of_heads(const prove::Proof& proof, const std::string& head) {
    const bool several = std::any_of(proof.seats.begin(), proof.seats.end(),
                                     [&](const auto& s) { return s.head != proof.seats.front().head; });
    return several ? head + "/" : "";
}

// How many there are beyond those listed.
void say_more(Pages& paper, std::size_t all, std::size_t listed, const Speech& speech) {
    if (all > listed) paper.sentence(in_words(sentence<"more-in-record">("more"_is = all - listed), speech));
}

}  // namespace

void limits_part(Pages& paper, const job::Job& job, const prove::Proof& proof, const Speech& speech) {
    const LengthUnit unit = speech.unit;
    struct Line {
        std::map<job::Kind, std::string> words;
        std::string source;
    };
    std::vector<std::string> order;
    std::map<std::string, Line> lines;
    for (const auto& seat : proof.seats)
        for (const auto& j : seat.judgements) {
            if (is_place(j)) continue;  // a single place has the mean's limits
            if (!lines.contains(j.what)) order.push_back(j.what);
            auto& line = lines[j.what];
            line.source = j.limit_source;
            line.words[job.head.valves[seat.valve].kind] =
                j.limit_low && j.limit_high ? fmt::format("{} to {}", shown_value(j.limit_low, j.what, unit),
                                                          shown_value(j.limit_high, j.what, unit))
                : j.limit_high              ? "at most " + shown_value(j.limit_high, j.what, unit)
                                            : "at least " + shown_value(j.limit_low, j.what, unit);
        }
    for (const auto& s : proof.stem_spreads) {
        if (!lines.contains(s.judgement.what)) order.push_back(s.judgement.what);
        auto& line = lines[s.judgement.what];
        line.source = s.judgement.limit_source;
        line.words[s.kind] = "at most " + length(s.judgement.limit_high, unit);
    }
    const auto none = not_judged_words(proof);
    if (order.empty() && none.empty()) return;
    paper.heading(fmt::format("Limits ({})", unit_name(unit)));
    const std::vector<Column> columns{{0}, {27}, {66}, {105}};
    row_of_heads(paper, columns,
                 {"", job::kind_word(job::Kind::intake), job::kind_word(job::Kind::exhaust), "from"});
    for (const auto& what : order) {
        auto& line = lines[what];
        const auto of = [&](job::Kind kind) { return line.words.contains(kind) ? line.words[kind] : "–"; };
        row_of_cells(paper, columns, {what, of(job::Kind::intake), of(job::Kind::exhaust), line.source});
    }
    paper.gap(1);
    if (!none.empty()) paper.sentence(in_words(none, speech));
}

void spreads_part(Pages& paper, const job::Job& job, const prove::Proof& proof, const Speech& speech) {
    for (const auto& s : proof.stem_spreads)
        paper.sentence(in_words(spread_words(job, s, speech.unit), speech),
                       {verdict_ink(s.judgement.verdict)});
}

void open_part(Pages& paper, const job::Job& job, const prove::Proof& proof, std::size_t most_lines,
               const Speech& speech) {
    std::vector<Sentence> lines, undecided, missing;  // the gravest first
    for (const auto& seat : proof.seats) {
        const auto name = "seat"_is = of_heads(proof, seat.head) + job.head.valves[seat.valve].id;
        std::vector<std::string> failed, open;
        for (const auto& j : seat.judgements) {
            if (j.verdict == prove::Verdict::fail) failed.push_back(j.what);
            if (j.verdict == prove::Verdict::not_measured) open.push_back(j.what);
            if (j.verdict == prove::Verdict::undecided)
                undecided.push_back(
                    sentence<"undecided">(name, "what"_is = j.what, "decider"_is = j.decider));
        }
        const bool is_accepted = seat.verdict != prove::Verdict::pass && !seat.accepted_by.empty();
        const auto accepted = "accepted"_is =
            is_accepted ? sentence<"accepted-by">("by"_is = seat.accepted_by) : Sentence();
        if (!failed.empty())
            lines.push_back(
                sentence<"fails-in">(name, "what"_is = list_of(failed, Join::semicolons), accepted));
        else if (is_accepted)
            lines.push_back(
                sentence<"is-accepted">(name, "verdict"_is = prove::word(seat.verdict), accepted));
        if (!open.empty())
            missing.push_back(sentence<"not-measured">(name, "what"_is = list_of(open, Join::semicolons)));
    }
    for (const auto& s : proof.stem_spreads)
        if (s.judgement.verdict != prove::Verdict::pass)
            (s.judgement.verdict == prove::Verdict::fail ? lines : undecided)
                .push_back(spread_words(job, s, speech.unit));
    lines.insert(lines.end(), undecided.begin(), undecided.end());
    lines.insert(lines.end(), missing.begin(), missing.end());
    if (!proof.unmeasured.empty()) {
        std::vector<std::string> ids;
        for (const auto& u : proof.unmeasured)
            ids.push_back(of_heads(proof, u.head) + job.head.valves[u.valve].id);
        lines.push_back(sentence<"no-reading-after">("seats"_is = some_of(std::move(ids))));
    }
    if (lines.empty()) return;
    paper.heading("Open points, and deviations accepted");
    for (std::size_t i = 0; i < std::min(lines.size(), most_lines); ++i)
        paper.sentence(in_words(lines[i], speech));
    say_more(paper, lines.size(), most_lines, speech);
}

void people_part(Pages& paper, const job::Job& job, const prove::Proof& proof, std::size_t most_lines,
                 const Speech& speech) {
    if (proof.seats.empty()) return;
    paper.heading("Who measured, and with what");
    // What a seat had measured in several sessions is said; of one session it is all the seat has.
    struct Session {
        std::string by, gauge, calibrated, what;
        std::vector<std::string> dates, names;
    };
    const auto add = [](std::vector<std::string>& list, const std::string& word) {
        if (list.empty() || list.back() != word) list.push_back(word);
    };
    const bool several = of_heads(proof, "") == "/";
    std::vector<Session> sessions;
    for (const auto& seat : proof.seats)
        for (const auto& of : seat.sessions) {
            const std::string what =
                seat.sessions.size() > 1 ? fmt::format("{}", fmt::join(of.what, ", ")) : "";
            auto at = std::find_if(sessions.begin(), sessions.end(), [&](const Session& s) {
                return s.by == of.by && s.gauge == of.gauge && s.calibrated == of.calibrated &&
                       s.what == what;
            });
            if (at == sessions.end())
                at = sessions.insert(at, {of.by, of.gauge, of.calibrated, what, {}, {}});
            add(at->dates, of.date);
            add(at->names, several ? seat.head : job.head.valves[seat.valve].id);
        }
    for (std::size_t i = 0; i < std::min(sessions.size(), most_lines); ++i) {
        const auto& s = sessions[i];
        Part names = some_of(s.names);
        if (several) names = sentence<"heads">("names"_is = std::move(names));
        if (sessions.size() == 1) names = sentence<"all-listed">();
        if (!s.what.empty())
            names = sentence<"measured-what">("names"_is = std::move(names), "what"_is = s.what);
        const std::string& first = s.dates.front();
        const Sentence date = s.dates.size() > 1 ? sentence<"dates">("first"_is = day_said(first),
                                                                     "last"_is = day_said(s.dates.back()))
                              : first.empty()    ? sentence<"date-not-recorded">()
                                                 : sentence<"date">("date"_is = first);
        paper.sentence(in_words(
            sentence<"session">("names"_is = std::move(names),
                                "by"_is = s.by.empty() ? sentence<"by-not-recorded">()
                                                       : sentence<"measured-by">("by"_is = s.by),
                                "date"_is = date,
                                "gauge"_is = s.gauge.empty() ? sentence<"gauge-not-recorded">()
                                                             : sentence<"gauge">("gauge"_is = s.gauge),
                                "calibrated"_is = s.calibrated.empty()
                                                      ? sentence<"calibrated-not-recorded">()
                                                      : sentence<"calibrated">("day"_is = s.calibrated)),
            speech));
    }
    say_more(paper, sessions.size(), most_lines, speech);
}

void signature_part(Pages& paper) {
    paper.need(22);
    paper.gap(15);
    const double y = paper.y(), left = paper.left(), third = paper.width() / 3;
    const char* const names[] = {"measured: name, date, signature", "released: name, date, signature",
                                 "received: name, date, signature"};
    for (int k = 0; k < 3; ++k) {
        const double x = left + k * third;
        paper.page().line({x, y}, {x + third - 6, y}, {Ink::line, 0.25});
        paper.page().text({x, y + 3.4}, names[k], 2.3, Anchor::start, Ink::faint);
    }
    paper.gap(6);
}

}  // namespace seatwright::papers
