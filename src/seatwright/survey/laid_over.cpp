#include "seatwright/survey/laid_over.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "seatwright/base/numerics/median.hpp"
#include "seatwright/base/units.hpp"

namespace seatwright::survey {
namespace {

struct Motion {
    bool mirrored = false;
    Mat2 turn = Mat2::Identity();
    Vec2 shift = Vec2::Zero();
    double yaw = 0;
    Vec2 way(Vec2 d) const {
        if (mirrored) d.y() = -d.y();
        return turn * d;
    }
    Vec2 operator()(const Vec2& p) const { return way(p) + shift; }
};

using Pairs = std::vector<std::pair<std::size_t, std::size_t>>;  // mine, other

Vec2 seen(const Vec2& p, bool mirrored) {
    return {p.x(), mirrored ? -p.y() : p.y()};
}

// The rigid motion of the other onto mine, least squares over the pairs (closed form in the plane).
Motion fitted(const Laid& mine, const Laid& other, const Pairs& pairs, bool mirrored) {
    Vec2 a = Vec2::Zero(), b = Vec2::Zero();
    const auto n = static_cast<double>(pairs.size());
    for (const auto& [m, o] : pairs) {
        a += mine.bolts[m] / n;
        b += seen(other.bolts[o], mirrored) / n;
    }
    double dot = 0, cross = 0;
    for (const auto& [m, o] : pairs) {
        const Vec2 x = mine.bolts[m] - a, y = seen(other.bolts[o], mirrored) - b;
        dot += y.dot(x);
        cross += y.x() * x.y() - y.y() * x.x();
    }
    Motion out;
    out.mirrored = mirrored;
    out.yaw = std::atan2(cross, dot);
    out.turn = plane_rotation(out.yaw);
    out.shift = a - out.turn * b;
    return out;
}

// Nearest partners, each taken once, nearest first.
template <class Mine, class Other, class May>
Pairs partners(const std::vector<Mine>& mine, const std::vector<Other>& other, double within,
               const May& off) {
    struct Pair {
        double d;
        std::size_t m, o;
    };
    std::vector<Pair> all;
    for (std::size_t m = 0; m < mine.size(); ++m)
        for (std::size_t o = 0; o < other.size(); ++o)
            if (const double d = off(mine[m], other[o]); d <= within) all.push_back({d, m, o});
    std::stable_sort(all.begin(), all.end(), [](const Pair& x, const Pair& y) { return x.d < y.d; });
    std::vector<bool> taken_m(mine.size()), taken_o(other.size());
    Pairs out;
    for (const auto& p : all) {
        if (taken_m[p.m] || taken_o[p.o]) continue;
        taken_m[p.m] = taken_o[p.o] = true;
        out.emplace_back(p.m, p.o);
    }
    return out;
}

Pairs bolt_pairs(const Laid& mine, const Laid& other, const Motion& motion, double within) {
    return partners(mine.bolts, other.bolts, within,
                    [&](const Vec2& m, const Vec2& o) { return (motion(o) - m).norm(); });
}

Pairs guide_pairs(const Laid& mine, const Laid& other, const Motion& motion) {
    return partners(mine.guides, other.guides, guides_within,
                    [&](const Laid::Guide& m, const Laid::Guide& o) { return (motion(o.at) - m.at).norm(); });
}

struct Fit {
    Motion motion;
    Pairs bolts;
    double rms = 0;
    std::size_t guides = 0, kinds = 0;  // that find a partner; of the other kind
    double guides_rms = 0;
};

double rms_of(const Laid& mine, const Laid& other, const Motion& motion, const Pairs& pairs) {
    double sum = 0;
    for (const auto& [m, o] : pairs) sum += (motion(other.bolts[o]) - mine.bolts[m]).squaredNorm();
    return pairs.empty() ? 0 : std::sqrt(sum / static_cast<double>(pairs.size()));
}

Fit settled(const Laid& mine, const Laid& other, Motion motion) {
    Fit out;
    for (int round = 0; round < 8; ++round) {
        auto pairs = bolt_pairs(mine, other, motion, partners_within);
        if (pairs.size() < 2 || pairs == out.bolts) break;
        motion = fitted(mine, other, pairs, motion.mirrored);
        out.bolts = std::move(pairs);
    }
    out.motion = motion;
    out.rms = rms_of(mine, other, motion, out.bolts);
    double sum = 0;
    for (const auto& [m, o] : guide_pairs(mine, other, motion)) {
        ++out.guides;
        sum += (motion(other.guides[o].at) - mine.guides[m].at).squaredNorm();
        const auto &a = mine.guides[m].kind, &b = other.guides[o].kind;
        out.kinds += a && b && *a != *b ? 1 : 0;
    }
    if (out.guides > 0) out.guides_rms = std::sqrt(sum / static_cast<double>(out.guides));
    return out;
}

Way way_of(const Motion& motion) {
    const bool turned = std::abs(motion.yaw) > pi / 2;
    return motion.mirrored ? (turned ? Way::mirrored_end_for_end : Way::mirrored)
                           : (turned ? Way::end_for_end : Way::same);
}

// The best fit of each way.
std::vector<Fit> fits_of(const Laid& mine, const Laid& other) {
    // The two of the other furthest from each other say the motion best; where one has no partner, others.
    constexpr std::size_t most_pairs = 24;
    struct Long {
        double d;
        std::size_t i, j;
    };
    std::vector<Long> longest;
    for (std::size_t i = 0; i < other.bolts.size(); ++i)
        for (std::size_t j = i + 1; j < other.bolts.size(); ++j)
            longest.push_back({(other.bolts[i] - other.bolts[j]).norm(), i, j});
    std::stable_sort(longest.begin(), longest.end(), [](const Long& a, const Long& b) { return a.d > b.d; });
    if (longest.size() > most_pairs) {
        // The longest and, evenly, shorter ones: the other may be the longer head's end.
        std::vector<Long> some;
        for (std::size_t k = 0; k < most_pairs; ++k) some.push_back(longest[k * longest.size() / most_pairs]);
        longest = std::move(some);
    }
    constexpr std::size_t most_tried = 4000;  // a head's pattern comes together within the first few
    std::size_t tried = 0;
    std::array<std::optional<Fit>, 4> best;
    for (const bool mirrored : {false, true})
        for (const auto& pair : longest)
            for (std::size_t m = 0; m < mine.bolts.size(); ++m)
                for (std::size_t n = 0; n < mine.bolts.size(); ++n) {
                    if (m == n ||
                        std::abs((mine.bolts[m] - mine.bolts[n]).norm() - pair.d) > partners_within ||
                        tried++ >= most_tried)
                        continue;
                    auto fit =
                        settled(mine, other, fitted(mine, other, {{m, pair.i}, {n, pair.j}}, mirrored));
                    if (fit.bolts.size() < 2) continue;
                    auto& now = best[static_cast<std::size_t>(way_of(fit.motion))];
                    const auto better = [&] {
                        if (!now) return true;
                        if (fit.bolts.size() != now->bolts.size())
                            return fit.bolts.size() > now->bolts.size();
                        if (fit.guides != now->guides) return fit.guides > now->guides;
                        return fit.rms < now->rms;
                    };
                    if (better()) now = std::move(fit);
                }
    std::vector<Fit> out;
    for (auto& fit : best)
        if (fit) out.push_back(std::move(*fit));
    return out;
}

std::optional<double> less(const std::optional<double>& other, const std::optional<double>& mine) {
    if (!other || !mine) return std::nullopt;
    return *other - *mine;
}

void add_guides(const Laid& mine, const Laid& other, const Motion& motion, LaidOver& out) {
    std::vector<bool> mine_has(mine.guides.size()), other_has(other.guides.size());
    std::vector<double> sizes;
    for (const auto& [m, o] : guide_pairs(mine, other, motion)) {
        mine_has[m] = other_has[o] = true;
        const auto &a = mine.guides[m], &b = other.guides[o];
        LaidOver::Guide g;
        g.mine = a.id;
        g.other = b.id;
        g.off = motion(b.at) - a.at;
        g.z = less(b.z, a.z);
        if (b.incline && b.cant) {
            // Leans are turned with the head: their tangents are a vector across the deck.
            const Vec2 lean = motion.way({std::tan(*b.cant), std::tan(*b.incline)});
            g.incline = less(std::atan(lean.y()), a.incline);
            g.cant = less(std::atan(lean.x()), a.cant);
        }
        sizes.push_back(g.off.norm());
        out.guides.push_back(std::move(g));
    }
    // In the order of mine.
    std::sort(out.guides.begin(), out.guides.end(), [&](const auto& x, const auto& y) {
        const auto at = [&](const std::string& id) {
            return std::find_if(mine.guides.begin(), mine.guides.end(),
                                [&](const auto& g) { return g.id == id; });
        };
        return at(x.mine) < at(y.mine);
    });
    for (std::size_t m = 0; m < mine.guides.size(); ++m)
        if (!mine_has[m]) out.guides_alone.push_back(mine.guides[m].id);
    for (std::size_t o = 0; o < other.guides.size(); ++o)
        if (!other_has[o]) out.guides_alone.push_back(other.guides[o].id + " (of the other)");
    if (sizes.empty()) return;
    double sum = 0;
    for (const double s : sizes) sum += s * s;
    out.guides_rms = std::sqrt(sum / static_cast<double>(sizes.size()));
    out.guides_worst = *std::max_element(sizes.begin(), sizes.end());
    // Guides of a casting stray by 0.05 to 0.15 (from memory): beyond 0.5 and far beyond its fellows one
    // stands out.
    constexpr double least = 0.5, times = 4;
    const double middle = numerics::middle_one(sizes);
    for (auto& g : out.guides) g.stands_out = g.off.norm() > std::max(least, times * middle);
}

}  // namespace

const char* word_of(Way way) {
    constexpr std::array words{"as declared", "end for end", "mirrored", "mirrored end for end"};
    return words[static_cast<std::size_t>(way)];
}

Laid laid(const Survey& survey) {
    Laid out;
    for (const auto& h : survey.holes)
        if (h.kind == HoleKind::bolt && h.x.value && h.y.value) out.add_bolt(h);
    for (const auto& v : survey.valves)
        if (v.x.value && v.y.value) out.add(v, v.name.kind, std::max(v.x.u, v.y.u));
    return out;
}

Laid laid(const job::Job& job) {
    Laid out;
    out.bolts = job.head.bolt_holes;
    for (const auto& v : job.head.valves) {
        const auto given = [&](const char* name, double value) -> std::optional<double> {
            const auto key = v.pattern >= 0 ? "head.pattern.valve[" + std::to_string(v.pattern) + "]." + name
                                            : "head.valve." + v.id + "." + name;
            if (job.head.made_up(key)) return std::nullopt;
            return value;
        };
        out.guides.push_back({v.id, v.kind, v.seat.head<2>(), given("z", v.seat.z()),
                              given("incline", v.incline), given("cant", v.cant), 0});
    }
    return out;
}

std::optional<LaidOver> lay_over(const Laid& mine, const Laid& other) {
    auto fits = fits_of(mine, other);
    if (fits.empty()) return std::nullopt;
    const auto best = std::max_element(fits.begin(), fits.end(), [](const Fit& a, const Fit& b) {
        if (a.bolts.size() != b.bolts.size()) return a.bolts.size() < b.bolts.size();
        if (a.guides != b.guides) return a.guides < b.guides;
        if (a.kinds != b.kinds) return a.kinds > b.kinds;
        // What is as good to a hundredth stays in the order of the ways: nobody mirrors a head by chance.
        constexpr double told_apart = 0.01;
        const auto off = [](const Fit& f) {
            return std::llround(std::hypot(f.rms, f.guides_rms) / told_apart);
        };
        return off(a) > off(b);
    });
    LaidOver out;
    out.way = way_of(best->motion);
    // Ways whose bolts come together as well, and those of them whose guides do too.
    constexpr double about = 2, least = 0.05;
    for (const auto& fit : fits) {
        if (&fit == &*best || fit.bolts.size() < best->bolts.size() ||
            fit.rms > about * std::max(best->rms, least))
            continue;
        if (fit.guides < best->guides || fit.kinds > best->kinds ||
            fit.guides_rms > about * std::max(best->guides_rms, least))
            out.by_guides = true;
        else
            out.as_well.push_back(way_of(fit.motion));
    }
    const Motion& motion = best->motion;
    out.yaw = std::abs(motion.yaw) > pi / 2 ? motion.yaw - std::copysign(pi, motion.yaw) : motion.yaw;
    out.offset = motion.shift;
    for (const auto& [m, o] : best->bolts) {
        out.bolts.push_back({m, o, motion(other.bolts[o]) - mine.bolts[m]});
        out.bolts_worst = std::max(out.bolts_worst, out.bolts.back().off.norm());
    }
    std::sort(out.bolts.begin(), out.bolts.end(),
              [](const auto& a, const auto& b) { return a.mine < b.mine; });
    out.bolts_rms = best->rms;
    out.mine_alone = mine.bolts.size() - out.bolts.size();
    out.other_alone = other.bolts.size() - out.bolts.size();
    add_guides(mine, other, motion, out);
    return out;
}

}  // namespace seatwright::survey
