#include "seatwright/prove/causes.hpp"

#include <algorithm>
#include <cmath>

#include "seatwright/cut/chatter.hpp"
#include "seatwright/cut/conditions.hpp"
#include "seatwright/find/pilots.hpp"
#include "seatwright/job/of_head.hpp"
#include "seatwright/prove/trace.hpp"
#include "seatwright/words/english_prove.hpp"

namespace seatwright::prove {

namespace {

// An amplitude this many of its standard uncertainties long is there.
constexpr double clear_of_noise = 3;
// A smaller share of the trace's mean square is not worth a sentence.
constexpr double share_worth_telling = 0.02;
// Where nothing is left over to judge noise by: the finest division of a common dial.
constexpr double dial_division = 0.001;
// From here on a count of marks is a cutting tool's doing, not a clamp's (common practice).
constexpr int fewest_chatter_marks = 5;
// Marks beyond this are finer than a seat trace resolves.
constexpr int most_marks = 90;
constexpr std::size_t least_points_for_marks = 64;
constexpr double marks_false_alarm = 1e-4;
// Frequencies this near the machine's mode are taken for it: speed is known no better.
constexpr double mode_match = 0.15;
// A known size that explains this much of an eccentricity is the likely cause; one under the lower bound is
// not.
constexpr double explains_most = 0.8, explains_little = 0.2;

double mean_square(const SeatProof& seat) {
    const Turn turn = turn_of(seat.readings, seat.angle);
    double sum = 0;
    for (const double r : turn.r) sum += r * r;
    return sum / static_cast<double>(turn.size());
}

double share_of(const Harmonic& h, double square) {
    return square > 0 ? std::min(1.0, h.amplitude * h.amplitude / 2 / square) : 0;
}

bool is_clear(const Harmonic& h, double share) {
    const double floor = h.amplitude_u ? clear_of_noise * *h.amplitude_u : dial_division;
    return h.amplitude > floor && share >= share_worth_telling;
}

Figure percent_of(double part, double whole) {
    return as_percent(100 * part / whole, 0);
}

Cause off_axis(const job::Job& job, const SeatProof& seat, const Beside& beside, const Harmonic& h,
               double share) {
    Cause out{"seat off the guide axis", {}, share, {}, {1}, std::nullopt};
    std::vector<Sentence> said;
    const double e = h.amplitude;
    said.push_back(sentence<"once-per-turn">("size"_is = as_fine(e), "towards"_is = as_degrees(h.phase, 0)));
    out.sureness = sentence<"once-per-turn-sure">();
    const auto lever = lever_of(job, seat.valve);
    if (!lever) {
        out.statement = clauses(std::move(said));
        return out;
    }
    said.push_back(sentence<"alone-it-takes">("off"_is = as_fine(play_for(*lever, e)),
                                              "lean"_is = as_degrees(plumb_for(*lever, e), 3)));
    const auto* read = beside.guide;
    const auto choice = find::choose_pilot(job, seat.valve, read);
    double by_play = 0, by_lean = 0;
    if (choice.pilot && choice.play) {
        by_play = eccentricity_of_play(*lever, *choice.play);
        if (by_play > 0)
            said.push_back(sentence<"pilot-play">(
                "pilot"_is = job.pilots[*choice.pilot].name,
                "how"_is = read ? sentence<"as-read">() : sentence<"by-drawing">(),
                "play"_is = as_fine(*choice.play), "share"_is = percent_of(by_play, e)));
    }
    const auto lean = beside.lean();
    if (lean) {
        by_lean = eccentricity_of_plumb(*lever, *lean);
        said.push_back(
            sentence<"lean-read">("lean"_is = as_degrees(*lean, 3), "share"_is = percent_of(by_lean, e)));
    }
    const bool play = choice.play && by_play >= explains_most * e;
    const bool tilted = lean && by_lean >= explains_most * e;
    if (play && lean && by_lean <= explains_little * e) out.sureness = sentence<"play-likely">();
    if (tilted && choice.play && by_play <= explains_little * e) out.sureness = sentence<"plumb-likely">();
    if (lean && choice.play && by_play + by_lean <= explains_little * e)
        out.sureness = sentence<"bent-likely">();
    said.push_back(sentence<"to-tell">());
    out.statement = clauses(std::move(said));
    return out;
}

Cause lobes(const Harmonic& h, double share) {
    Cause out;
    out.share = share;
    out.orders = {h.order};
    if (h.order == 2) {
        out.what = "oval";
        out.statement =
            sentence<"oval">("size"_is = as_fine(4 * h.amplitude), "across"_is = as_degrees(h.phase / 2, 0));
        out.sureness = sentence<"oval-sure">();
    } else if (h.order == 3) {
        out.what = "three-lobe";
        out.statement = sentence<"three-lobe">("size"_is = as_fine(h.amplitude));
        out.sureness = sentence<"three-lobe-sure">();
    } else {
        out.what = "four-lobe";
        out.statement = sentence<"four-lobe">("size"_is = as_fine(h.amplitude));
        out.sureness = sentence<"four-lobe-sure">();
    }
    return out;
}

// Spindle speed that the shelf gives this seat: the top of its material's range within the machine's.
std::optional<double> usual_rpm(const job::Job& job, std::size_t valve, const SeatLever& lever) {
    const auto& form = job.seat[job.head.valves[valve].kind];
    const std::string& name = form && !form->material.empty() ? form->material : job.head.material;
    const auto* material = job.material(name);
    if (!material || !material->speed) return std::nullopt;
    double rpm = cut::rpm_of(material->speed->high, lever.outer_diameter);
    if (job.machine.rpm_max) rpm = std::min(rpm, *job.machine.rpm_max);
    if (job.machine.rpm_step > 0) rpm = std::floor(rpm / job.machine.rpm_step) * job.machine.rpm_step;
    if (rpm <= 0) return std::nullopt;
    return rpm;
}

Cause chatter(const job::Job& job, const SeatProof& seat, const Harmonic& h, double share) {
    Cause out{"chatter", {}, share, sentence<"chatter-sure">(), {h.order}, {}};
    out.statement = sentence<"marks">("count"_is = h.order, "size"_is = as_fine(h.amplitude));
    const auto lever = lever_of(job, seat.valve);
    const auto rpm = lever ? usual_rpm(job, seat.valve, *lever) : std::nullopt;
    if (!rpm) return out;
    const double f = cut::frequency_of_marks(h.order, *rpm);
    out.frequency = f;
    out.statement = clauses(
        {out.statement, sentence<"marks-at">("rpm"_is = as_number(*rpm, 0), "hertz"_is = as_number(f, 0))});
    if (job.machine.mode && std::abs(f / job.machine.mode->frequency - 1) < mode_match)
        out.sureness = sentence<"own-mode">("hertz"_is = as_number(job.machine.mode->frequency, 0));
    return out;
}

}  // namespace

std::optional<SeatLever> lever_of(const job::Job& job, std::size_t valve) {
    const auto kind = job.head.valves[valve].kind;
    const auto& form = job.seat[kind];
    const auto& disc = job.valve[kind];
    if (!form || (!form->contact_diameter && !disc)) return std::nullopt;
    const double outer =
        form->contact_diameter ? *form->contact_diameter : disc->head_diameter - 2 * form->inset.value_or(0);
    SeatLever out;
    out.angle = form->angle;
    out.gauge_diameter = outer - form->width * std::cos(form->angle);
    out.outer_diameter = outer;
    for (const auto& facet : form->top) out.outer_diameter += 2 * facet.width * std::cos(facet.angle);
    if (out.angle <= 0 || out.gauge_diameter <= 0) return std::nullopt;
    return out;
}

double eccentricity_of_play(const SeatLever& lever, double play) {
    return play * std::sin(lever.angle);
}
double eccentricity_of_plumb(const SeatLever& lever, double plumb_error) {
    return lever.gauge_diameter / 2 * plumb_error * std::cos(lever.angle);
}
double play_for(const SeatLever& lever, double eccentricity) {
    return eccentricity / std::sin(lever.angle);
}
double plumb_for(const SeatLever& lever, double eccentricity) {
    return eccentricity / (lever.gauge_diameter / 2 * std::cos(lever.angle));
}

std::optional<Harmonic> marks_beyond(const SeatProof& seat) {
    const auto n = seat.readings.size();
    const int highest = std::min<int>(most_marks, static_cast<int>((n - 1) / 2));
    if (n < least_points_for_marks || highest < 16 || !seat.noise || *seat.noise <= 0) return std::nullopt;
    const Turn turn = turn_of(seat.readings, seat.angle);
    std::vector<double> a(static_cast<std::size_t>(highest + 1), 0), b(a);
    for (std::size_t i = 0; i < n; ++i) {
        double c = 1, s = 0;
        for (std::size_t k = 0; k < a.size(); ++k) {
            a[k] += turn.r[i] * c;
            b[k] += turn.r[i] * s;
            const double next = c * turn.cos[i] - s * turn.sin[i];
            s = s * turn.cos[i] + c * turn.sin[i];
            c = next;
        }
    }
    Harmonic best;
    for (int order = 16; order <= highest; ++order) {
        const auto k = static_cast<std::size_t>(order);
        const double amplitude = 2 * std::hypot(a[k], b[k]) / static_cast<double>(n);
        if (amplitude > best.amplitude) best = {order, amplitude, std::atan2(b[k], a[k]), std::nullopt};
    }
    // Fisher's test of the largest of many periodogram lines.
    const double odds =
        std::exp(-best.amplitude * best.amplitude * static_cast<double>(n) / (4 * *seat.noise * *seat.noise));
    if (odds * highest > marks_false_alarm) return std::nullopt;
    if (best.phase < 0) best.phase += 2 * pi;
    best.amplitude_u = *seat.noise * std::sqrt(2.0 / static_cast<double>(n));
    return best;
}

std::optional<double> Beside::lean() const {
    if (!incline && !cant) return std::nullopt;
    return std::hypot(incline.value_or(0), cant.value_or(0));
}

ReadingIndex::ReadingIndex(const job::Job& job, const std::string& head) {
    const auto take_guide = [&](const job::GuideBore& g) { by_seat_[{g.head, g.valve}].guide = &g; };
    const auto take_level = [&](const job::Level& l) {
        auto& beside = by_seat_[{l.head, l.valve}];
        (l.across == job::Across::cant ? beside.cant : beside.incline) =
            l.second ? (l.first - *l.second) / 2 : l.first;
    };
    const auto& [touches, levels, guides, seats, proofs, firsts] = job.readings;
    if (head.empty()) {
        std::for_each(guides.begin(), guides.end(), take_guide);
        std::for_each(levels.begin(), levels.end(), take_level);
        return;
    }
    for (const auto& guide : job::of_head(guides, head)) take_guide(guide);
    for (const auto& level : job::of_head(levels, head)) take_level(level);
}

Beside ReadingIndex::of(const std::string& head, const std::string& valve) const {
    const auto at = by_seat_.find({head, valve});
    return at == by_seat_.end() ? Beside{} : at->second;
}

std::vector<Cause> find_causes(const job::Job& job, const SeatProof& seat, const Beside& beside) {
    std::vector<Cause> out;
    if (seat.harmonics.empty() || seat.slip) return out;
    const double square = mean_square(seat);
    for (const auto& h : seat.harmonics) {
        const double share = share_of(h, square);
        if (!is_clear(h, share)) continue;
        if (h.order == 1)
            out.push_back(off_axis(job, seat, beside, h, share));
        else if (h.order < fewest_chatter_marks)
            out.push_back(lobes(h, share));
        else
            out.push_back(chatter(job, seat, h, share));
    }
    if (const auto marks = marks_beyond(seat)) {
        const double share = share_of(*marks, square);
        if (is_clear(*marks, share)) out.push_back(chatter(job, seat, *marks, share));
    }
    std::stable_sort(out.begin(), out.end(),
                     [](const Cause& a, const Cause& b) { return a.share > b.share; });
    return out;
}

}  // namespace seatwright::prove
