// prove for a terminal: the verdict first, a line a seat, why a seat is as it is, the batch, what may be
// claimed.
#include <fmt/format.h>

#include <algorithm>
#include <string>

#include "seatwright/job/kind_word.hpp"
#include "seatwright/report/report.hpp"
#include "seatwright/report/show.hpp"
#include "seatwright/words/english_report.hpp"

namespace seatwright::report {

namespace {

// Heads after which a terminal shows only the seats that did not pass.
constexpr std::size_t heads_shown_whole = 4;
constexpr std::size_t seats_with_vacuum = 32;  // of more, only those that fail
constexpr double share_shown = 0.005;          // of the variance; smaller parts stay in the JSON

std::string capital(const char* word) {
    std::string out(word);
    for (char& c : out)
        if (c >= 'a' && c <= 'z') c = static_cast<char>(c - 'a' + 'A');
    return out;
}

const prove::Judgement* judgement(const prove::SeatProof& seat, const char* what) {
    for (const auto& j : seat.judgements)
        if (j.what == what) return &j;
    return nullptr;
}

std::string with_u(std::optional<double> value, const prove::Judgement* j, LengthUnit unit) {
    if (!value) return length(value, unit);
    return length(value, unit) + (j && j->u ? " ± " + uncertainty(j->u, unit) : "");
}

std::string strongest(const prove::SeatProof& seat, LengthUnit unit) {
    const prove::Harmonic* most = nullptr;
    for (const auto& h : seat.harmonics)
        if (h.order >= 2 && (!most || h.amplitude > most->amplitude)) most = &h;
    return most ? fmt::format("{}x {}", most->order, length(most->amplitude, unit)) : "";
}

std::string seat_verdict(const prove::SeatProof& seat) {
    if (seat.verdict == prove::Verdict::pass) return prove::word(seat.verdict);
    std::string what;
    for (const auto& j : seat.judgements)
        if (j.verdict == seat.verdict) what += (what.empty() ? "" : ", ") + j.what;
    return capital(prove::word(seat.verdict)) + (what.empty() ? "" : ": " + what);
}

std::string seats_text(const job::Job& job, const prove::Proof& proof, const std::vector<std::string>& heads,
                       const TextStyle& style) {
    const std::string unit = unit_name(style.unit);
    Table table({"head", "valve", "runout " + unit, "limit", "off axis", "towards deg", "out-of-round",
                 "strongest", "width " + unit, "stem height " + unit, "verdict"});
    const bool whole = heads.size() <= heads_shown_whole;
    std::size_t left_out = 0;
    for (const auto& seat : proof.seats) {
        if (!whole && seat.verdict == prove::Verdict::pass) {
            ++left_out;
            continue;
        }
        const auto* runout = judgement(seat, "runout");
        table.row({seat.head, job.head.valves[seat.valve].id,
                   with_u(runout ? runout->value : seat.runout, runout, style.unit),
                   length(runout ? runout->limit_high : std::nullopt, style.unit),
                   length(seat.eccentricity, style.unit), angle(seat.eccentricity_direction, 0),
                   length(seat.roundness ? std::optional(seat.roundness->mz) : std::nullopt, style.unit),
                   strongest(seat, style.unit), with_u(seat.width, judgement(seat, "width"), style.unit),
                   with_u(seat.stem_height, judgement(seat, "stem height"), style.unit), seat_verdict(seat)});
    }
    for (const auto& u : proof.unmeasured)
        if (whole)
            table.row(
                {u.head, job.head.valves[u.valve].id, "–", "–", "–", "–", "–", "", "–", "–", "NOT MEASURED"});
    std::string out = table.empty() ? "" : table.text(style.table);
    if (left_out > 0) out += fmt::format("and {} seats that pass\n", left_out);
    if (!whole && !proof.unmeasured.empty())
        out += fmt::format("and {} seats that were not measured\n", proof.unmeasured.size());
    return out;
}

std::string causes_text(const job::Job& job, const prove::Proof& proof, const TextStyle& style) {
    std::string out;
    for (const auto& seat : proof.seats) {
        const auto* runout = judgement(seat, "runout");
        if (!runout || runout->verdict == prove::Verdict::pass) continue;
        for (const auto& c : seat.causes)
            out += fmt::format("{}/{}: {} ({:.0f} % of the trace): {}; {}\n", seat.head,
                               job.head.valves[seat.valve].id, c.what, 100 * c.share,
                               in_words(c.statement, style.speech()), in_words(c.sureness, style.speech()));
    }
    return out.empty() ? out : "\n" + heading_text("Why", style.table) + out;
}

std::string capability_sentence(const prove::Series& s) {
    if (!s.cpk) return "–";
    return fmt::format("{:.2f} ({:.2f} to {:.2f})", *s.cpk, *s.cpk_low, *s.cpk_high);
}

std::string signal_words(const prove::Series& s) {
    if (s.signals.empty()) return "none";
    const auto& last = s.signals.back();
    return s.signals.size() == 1
               ? fmt::format("head {}: {}", last.head, last.rule)
               : fmt::format("{}, last head {}: {}", s.signals.size(), last.head, last.rule);
}

// A drift is small beside the sizes: two more places.
std::string drift_words(const prove::Series& s, LengthUnit unit) {
    if (!s.drift_per_head) return "–";
    const double drift = *s.drift_per_head;
    if (s.what == "vacuum") return fmt::format("{}{}", drift > 0 ? "+" : "", vacuum(drift, unit, 3));
    return unit == LengthUnit::inch ? fmt::format("{:+.6f}", drift / mm_per_inch)
                                    : fmt::format("{:+.5f}", drift);
}

// Where most seats lie, of characteristics that have a limit.
std::string tolerance_text(const prove::Proof& proof, LengthUnit unit) {
    std::string out;
    for (const auto& s : proof.batch) {
        if (!s.tolerance_low && !s.tolerance_high) continue;
        const auto size = [&](double v) {
            return s.what == "vacuum" ? fmt::format("{} {}", vacuum(v, unit), vacuum_unit_name(unit))
                                      : length(v, unit);
        };
        out += fmt::format("{}{} {} ", out.empty() ? "" : "; ", s.what, job::kind_word(s.kind));
        out += s.tolerance_low && s.tolerance_high
                   ? fmt::format("{} to {}", size(*s.tolerance_low), size(*s.tolerance_high))
               : s.tolerance_high ? "at most " + size(*s.tolerance_high)
                                  : "at least " + size(*s.tolerance_low);
    }
    return out.empty() ? out : fmt::format("95 % of seats lie here, with 95 % confidence: {}\n", out);
}

std::string batch_text(const prove::Proof& proof, const TextStyle& style) {
    if (proof.batch.empty()) return "";
    const std::string unit = unit_name(style.unit);
    Table table({"batch, " + unit, "kind", "seats", "mean", "sigma", "lower", "upper", "Cpk (95 %)",
                 "per head", "limit at head", "signals"});
    const auto size = [&](const prove::Series& s, double v) {
        return s.what == "vacuum" ? vacuum(v, style.unit) : length(v, style.unit);
    };
    for (const auto& s : proof.batch)
        table.row({s.what == "vacuum" ? fmt::format("vacuum, {}", vacuum_unit_name(style.unit)) : s.what,
                   job::kind_word(s.kind), std::to_string(s.n), size(s, s.mean), size(s, s.sigma),
                   size(s, s.lower), size(s, s.upper), capability_sentence(s), drift_words(s, style.unit),
                   s.limit_at_head ? fmt::format("{:.0f}", *s.limit_at_head) : "–", signal_words(s)});
    return "\n" + table.text(style.table) + tolerance_text(proof, style.unit);
}

std::string components_text(const prove::Proof& proof, const TextStyle& style) {
    Table table({"varies with", "in", "kind", "sd " + std::string(unit_name(style.unit)), "share"});
    std::vector<std::pair<std::string, std::string>> meanings;
    for (const auto& c : proof.components) {
        if (c.share < share_shown) continue;
        table.row({c.factor, c.what, job::kind_word(c.kind), length(c.sd, style.unit),
                   fmt::format("{:.0f} %", 100 * c.share)});
        const std::pair meaning{c.factor, in_words(c.remark, style.speech())};
        if (std::find(meanings.begin(), meanings.end(), meaning) == meanings.end())
            meanings.push_back(meaning);
    }
    if (table.empty()) return "";
    std::string out = "\n" + table.text(style.table);
    for (const auto& [factor, remark] : meanings) out += fmt::format("{}: {}\n", factor, remark);
    return out;
}

std::string vacuum_text(const job::Job& job, const prove::Proof& proof, const Speech& speech) {
    const LengthUnit unit = speech.unit;
    std::string out;
    std::size_t read = 0;
    for (const auto& seat : proof.seats)
        for (const auto& j : seat.judgements) {
            if (!j.what.starts_with("vacuum") || !j.value) continue;
            ++read;
            if (proof.seats.size() > seats_with_vacuum && j.verdict == prove::Verdict::pass) continue;
            out += fmt::format("{}/{}: {} {}{} {}{}: {}\n", seat.head, job.head.valves[seat.valve].id, j.what,
                               vacuum(*j.value, unit), j.u ? " ± " + vacuum_uncertainty(*j.u, unit) : "",
                               vacuum_unit_name(unit), j.what == "vacuum" ? "" : " in 10 s",
                               prove::word(j.verdict));
        }
    if (read == 0) return "";
    return fmt::format("\n{}{} vacuum reading(s). {}.\n", out, read, in_words(vacuum_caution(), speech));
}

// What the head is held to beside its seats, and what it is not.
std::string whole_head_text(const job::Job& job, const prove::Proof& proof, bool whole,
                            const TextStyle& style) {
    std::string out;
    for (const auto& s : proof.stem_spreads)
        if (whole || s.judgement.verdict != prove::Verdict::pass)
            out += in_words(spread_words(job, s, style.unit), style.speech()) + "\n";
    if (const auto none = not_judged_words(proof); !none.empty())
        out += in_words(none, style.speech()) + "\n";
    return out.empty() ? out : "\n" + out;
}

}  // namespace

std::string text_of(const job::Job& job, const prove::Proof& proof, const TextStyle& style) {
    std::vector<std::string> heads;
    for (const auto& seat : proof.seats)
        if (heads.empty() || heads.back() != seat.head) heads.push_back(seat.head);
    std::string out =
        heading_text(fmt::format("Verdict: {}", capital(prove::word(proof.verdict))), style.table);
    if (proof.seats.empty()) return out + in_words(sentence<"no-seat-after">(), style.speech()) + '\n';
    out += seats_text(job, proof, heads, style);
    out += whole_head_text(job, proof, heads.size() <= heads_shown_whole, style);
    out += vacuum_text(job, proof, style.speech());
    if (heads.size() <= heads_shown_whole) out += causes_text(job, proof, style);
    out += batch_text(proof, style);
    out += components_text(proof, style);
    if (proof.sampling && proof.sampling->measured > 0)
        out += "\n" + in_words(proof.sampling->words, style.speech()) + "\n";
    return out;
}

Sentence vacuum_caution() {
    return sentence<"vacuum-caution">();
}

Sentence spread_words(const job::Job& job, const prove::StemSpread& spread, LengthUnit unit) {
    const prove::Judgement& j = spread.judgement;
    return sentence<"stem-spread">(
        "head"_is = spread.head, "kind"_is = job::kind_word(spread.kind),
        "apart"_is = with_u(j.value, &j, unit) + " " + unit_name(unit),
        "lowest"_is = job.head.valves[spread.lowest].id, "highest"_is = job.head.valves[spread.highest].id,
        "allowed"_is = length(j.limit_high, unit), "verdict"_is = prove::word(j.verdict));
}

Sentence not_judged_words(const prove::Proof& proof) {
    std::vector<std::string> all;
    for (const auto& l : proof.not_judged)
        all.push_back(l.kind ? fmt::format("{} ({})", l.what, job::kind_word(*l.kind)) : l.what);
    if (all.empty()) return {};
    return sentence<"not-judged">("limits"_is = list_of(all, Join::commas));
}

}  // namespace seatwright::report
