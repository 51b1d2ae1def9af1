#include "seatwright/prove/whole_head.hpp"

#include <algorithm>
#include <numbers>
#include <set>

#include "seatwright/job/kind_word.hpp"
#include "seatwright/prove/verdict.hpp"
#include "seatwright/words/english_prove.hpp"

namespace seatwright::prove {

namespace {

std::size_t seats_of(const job::Job& job, job::Kind kind) {
    return static_cast<std::size_t>(std::count_if(job.head.valves.begin(), job.head.valves.end(),
                                                  [&](const auto& v) { return v.kind == kind; }));
}

// Of the seats of one kind of one head; none while it may still come out either way.
std::optional<StemSpread> spread_of(const job::Job& job, job::Kind kind,
                                    const std::vector<const SeatProof*>& read) {
    if (read.size() < 2) return std::nullopt;
    const auto [low, high] = std::minmax_element(read.begin(), read.end(), [](const auto* a, const auto* b) {
        return *a->stem_height < *b->stem_height;
    });
    StemSpread out;
    out.head = read.front()->head;
    out.kind = kind;
    out.lowest = (*low)->valve;
    out.highest = (*high)->valve;
    Judgement& j = out.judgement;
    j.what = "stem spread";
    j.value = *(*high)->stem_height - *(*low)->stem_height;
    j.limit_high = job.depth.stem_spread;
    j.limit_source = "stem_spread of the job";
    for (const auto* seat : read)
        if (seat->stem_height_u) j.u = std::max(j.u.value_or(0), std::numbers::sqrt2 * *seat->stem_height_u);
    j.verdict = decide(*j.value, j.limit_low, j.limit_high, j.u.value_or(0));
    if (j.verdict != Verdict::fail && read.size() < seats_of(job, kind)) return std::nullopt;
    return out;
}

}  // namespace

std::vector<StemSpread> stem_spreads(const job::Job& job, const std::vector<SeatProof>& seats) {
    std::vector<StemSpread> out;
    if (!job.depth.stem_spread) return out;
    for (auto from = seats.begin(); from != seats.end();) {
        const auto to =
            std::find_if(from, seats.end(), [&](const SeatProof& s) { return s.head != from->head; });
        for (const auto kind : job::both_kinds) {
            std::vector<const SeatProof*> read;
            for (auto seat = from; seat != to; ++seat)
                if (job.head.valves[seat->valve].kind == kind && seat->stem_height) read.push_back(&*seat);
            if (auto spread = spread_of(job, kind, read)) out.push_back(std::move(*spread));
        }
        from = to;
    }
    return out;
}

std::vector<NotJudged> not_judged(const job::Job& job, const std::vector<SeatProof>& seats,
                                  const std::vector<StemSpread>& spreads) {
    std::vector<NotJudged> out;
    if (seats.empty()) return out;
    std::set<std::string> heads;
    for (const SeatProof& seat : seats) heads.insert(seat.head);
    for (const auto kind : job::both_kinds) {
        const auto& form = job.seat[kind];
        if (!form || seats_of(job, kind) == 0) continue;
        if (form->recession_min || form->recession_max) out.push_back({"recession", kind});
        if (form->below_deck_min || form->below_deck_max) out.push_back({"below deck", kind});
        const auto judged = std::count_if(spreads.begin(), spreads.end(),
                                          [&](const StemSpread& s) { return s.kind == kind; });
        if (job.depth.stem_spread && static_cast<std::size_t>(judged) < heads.size() &&
            seats_of(job, kind) > 1)
            out.push_back({"stem spread", kind});
    }
    if (job.depth.chamber_spread) out.push_back({"chamber spread", std::nullopt});
    std::stable_sort(out.begin(), out.end(),
                     [](const NotJudged& a, const NotJudged& b) { return a.what < b.what; });
    return out;
}

void say_spreads(Notices& notices, const job::Job& job, const std::vector<StemSpread>& spreads) {
    for (const StemSpread& s : spreads) {
        const Judgement& j = s.judgement;
        if (j.verdict != Verdict::fail && j.verdict != Verdict::undecided) continue;
        const auto kind = "kind"_is = job::kind_word(s.kind);
        const auto lowest = "lowest"_is = job.head.valves[s.lowest].id;
        const auto highest = "highest"_is = job.head.valves[s.highest].id;
        const auto apart = "apart"_is = as_fine(*j.value);
        const auto allowed = "allowed"_is = as_fine(*j.limit_high);
        const bool failed = j.verdict == Verdict::fail;
        notices.warnings.push_back(
            {"prove", failed ? "stem-spread" : "undecided", std::nullopt,
             sentence<"of-head">(
                 "head"_is = s.head,
                 "text"_is = failed ? sentence<"stems-apart">(kind, lowest, highest, apart, allowed)
                                    : sentence<"stems-undecided">(kind, lowest, highest, apart, allowed)),
             failed ? Severity::blocking : Severity::note});
    }
}

}  // namespace seatwright::prove
