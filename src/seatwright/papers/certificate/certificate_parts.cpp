#include "seatwright/papers/certificate/certificate_parts.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <map>

#include "seatwright/job/kind_word.hpp"
#include "seatwright/papers/certificate/certificate_rows.hpp"
#include "seatwright/papers/certificate/certificate_words.hpp"
#include "seatwright/report/show.hpp"

namespace seatwright::papers {

using namespace report;

namespace {

// Seats or heads of one session named one by one.
constexpr std::size_t names_listed = 8;

std::string said_or_unknown(const std::string& words) {
    return words.empty() ? "an unknown day" : words;
}

std::string of_heads(const prove::Proof& proof, const std::string& head) {
    const bool several = std::any_of(proof.seats.begin(), proof.seats.end(),
                                     [&](const auto& s) { return s.head != proof.seats.front().head; });
    return several ? head + "/" : "";
}

}  // namespace

void limits_part(Pages& paper, const job::Job& job, const prove::Proof& proof, LengthUnit unit) {
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
    if (order.empty()) return;
    paper.heading(fmt::format("Limits ({})", unit_name(unit)));
    const std::vector<Column> columns{{0}, {27}, {66}, {105}};
    row_of_heads(paper, columns,
                 {"", job::kind_word(job::Kind::intake), job::kind_word(job::Kind::exhaust), "from"});
    for (const auto& what : order) {
        auto& line = lines[what];
        const auto of = [&](job::Kind kind) { return line.words.contains(kind) ? line.words[kind] : "–"; };
        row_of_cells(paper, columns, {what, of(job::Kind::intake), of(job::Kind::exhaust), line.source});
    }
}

void open_part(Pages& paper, const job::Job& job, const prove::Proof& proof, std::size_t most_lines,
               const Speech& speech) {
    std::vector<std::string> lines, undecided, missing;  // the gravest first
    for (const auto& seat : proof.seats) {
        const std::string name = of_heads(proof, seat.head) + job.head.valves[seat.valve].id;
        std::vector<std::string> failed, open;
        for (const auto& j : seat.judgements) {
            if (j.verdict == prove::Verdict::fail) failed.push_back(j.what);
            if (j.verdict == prove::Verdict::not_measured) open.push_back(j.what);
            if (j.verdict == prove::Verdict::undecided)
                undecided.push_back(fmt::format("{}: {} is undecided; to decide it: {}", name, j.what,
                                                in_words(j.decider, speech)));
        }
        const std::string accepted = seat.verdict == prove::Verdict::pass || seat.accepted_by.empty()
                                         ? ""
                                         : "; accepted as it is by " + seat.accepted_by;
        if (!failed.empty())
            lines.push_back(fmt::format("{}: fails in {}{}", name, fmt::join(failed, "; "), accepted));
        else if (!accepted.empty())
            lines.push_back(fmt::format("{}: {}{}", name, prove::word(seat.verdict), accepted));
        if (!open.empty())
            missing.push_back(fmt::format("{}: not measured: {}", name, fmt::join(open, "; ")));
    }
    lines.insert(lines.end(), undecided.begin(), undecided.end());
    lines.insert(lines.end(), missing.begin(), missing.end());
    if (!proof.unmeasured.empty()) {
        std::vector<std::string> ids;
        for (const auto& u : proof.unmeasured)
            ids.push_back(of_heads(proof, u.head) + job.head.valves[u.valve].id);
        const auto shown = static_cast<std::ptrdiff_t>(std::min(ids.size(), names_listed));
        lines.push_back(fmt::format(
            "no reading after cutting: {}{}", fmt::join(ids.begin(), ids.begin() + shown, ", "),
            ids.size() > names_listed ? fmt::format(" and {} more", ids.size() - names_listed) : ""));
    }
    if (lines.empty()) return;
    paper.heading("Open points, and deviations accepted");
    for (std::size_t i = 0; i < std::min(lines.size(), most_lines); ++i) paper.sentence(lines[i]);
    if (lines.size() > most_lines)
        paper.sentence(fmt::format("and {} more in the record", lines.size() - most_lines));
}

void people_part(Pages& paper, const job::Job& job, const prove::Proof& proof, std::size_t most_lines) {
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
    const auto said = [](const char* what, const std::string& words) {
        return words.empty() ? fmt::format("{} not recorded", what) : fmt::format("{} {}", what, words);
    };
    for (std::size_t i = 0; i < std::min(sessions.size(), most_lines); ++i) {
        const auto& s = sessions[i];
        std::string names = fmt::format(
            "{}{}", several ? "heads " : "",
            fmt::join(s.names.begin(),
                      s.names.begin() + static_cast<std::ptrdiff_t>(std::min(s.names.size(), names_listed)),
                      ", "));
        if (s.names.size() > names_listed)
            names += fmt::format(" and {} more", s.names.size() - names_listed);
        if (sessions.size() == 1) names = "all that is listed";
        const std::string date = s.dates.size() == 1
                                     ? said("date", s.dates.front())
                                     : fmt::format("dates from {} to {}", said_or_unknown(s.dates.front()),
                                                   said_or_unknown(s.dates.back()));
        if (!s.what.empty()) names += ": " + s.what;
        paper.sentence(fmt::format("{}: {}; {}; {}; {}", names,
                                   s.by.empty() ? std::string("by whom not recorded") : "measured by " + s.by,
                                   date, said("gauge", s.gauge), said("calibrated", s.calibrated)));
    }
    if (sessions.size() > most_lines)
        paper.sentence(fmt::format("and {} more in the record", sessions.size() - most_lines));
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
