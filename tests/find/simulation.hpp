// Simulated heads with known truth, for the rates and the calibration that find promises. Used small by the
// tests and large by bench/find_bench.cpp, so that the figures in docs/ come from the same code. Random
// numbers: Random123's Philox counter generator, so each head draws the same whatever is run before it.
#pragma once

#include <Random123/philox.h>
#include <Eigen/LU>
#include <Random123/boxmuller.hpp>
#include <array>
#include <cmath>
#include <cstdint>
#include <vector>

#include "seatwright/find/guides.hpp"
#include "seatwright/find/pose.hpp"
#include "seatwright/find/suspects.hpp"

namespace seatwright::simulation {

// Normals and uniforms of one simulated head.
class Draw {
  public:
    Draw(std::uint64_t head, std::uint32_t stream)
        : key_{{static_cast<std::uint32_t>(head), static_cast<std::uint32_t>(head >> 32)}}, stream_(stream) {}
    double normal() {
        if (used_ == 2) refill();
        return pair_[used_++];
    }
    Vec2 vec(double sd) {
        const double x = normal();
        return sd * Vec2(x, normal());
    }
    double uniform() {
        const auto block = r123::Philox4x32()({{count_++, stream_, 1, 0}}, key_);
        return (block[0] + 0.5) / 4294967296.0;
    }
    std::size_t below(std::size_t n) { return static_cast<std::size_t>(uniform() * static_cast<double>(n)); }

  private:
    void refill() {
        const auto block = r123::Philox4x32()({{count_++, stream_, 0, 0}}, key_);
        const auto wide = [&](std::size_t i) {
            return (static_cast<std::uint64_t>(block[i]) << 32) | block[i + 1];
        };
        const r123::double2 both = r123::boxmuller(wide(0), wide(2));
        pair_ = {both.x, both.y};
        used_ = 0;
    }
    r123::Philox4x32::key_type key_;
    std::uint32_t stream_, count_ = 0;
    std::array<double, 2> pair_{};
    int used_ = 2;
};

// A kind of head and how it is touched.
struct Kind {
    const char* name;
    std::vector<find::Expected> guides;
    std::vector<std::size_t> touched;
    double touch_sd;
    find::Prior prior;
    double post_sd;  // of the true offset when no prior says so
};

inline std::vector<find::Expected> rows(std::size_t cylinders, double spacing, double pitch, double row,
                                        double scatter) {
    std::vector<find::Expected> guides;
    for (std::size_t k = 0; k < cylinders; ++k)
        for (const double side : {-0.5, 0.5})
            guides.push_back(
                {{static_cast<double>(k) * spacing + side * pitch, (k % 2 == 0 ? side : -side) * row},
                 scatter});
    const Vec2 datum = guides.front().map;
    for (auto& guide : guides) guide.map -= datum;
    return guides;
}

struct Head {
    std::vector<Vec2> truth;
    std::vector<find::Reading> readings;
};

inline Head draw_head(const Kind& kind, Draw& draw) {
    const double yaw = kind.prior.yaw + kind.prior.yaw_sd.value_or(0.01) * draw.normal();
    const Vec2 offset = kind.prior.offset + draw.vec(kind.prior.offset_sd.value_or(kind.post_sd));
    const Mat2 turn = plane_rotation(yaw);
    Head head;
    for (const auto& guide : kind.guides)
        head.truth.push_back(turn * (guide.map + draw.vec(guide.scatter)) + offset);
    for (const std::size_t v : kind.touched)
        head.readings.push_back({v, head.truth[v] + draw.vec(kind.touch_sd), kind.touch_sd, std::nullopt});
    return head;
}

inline std::vector<std::size_t> every(std::size_t n, std::size_t step = 1) {
    std::vector<std::size_t> all;
    for (std::size_t i = 0; i < n; i += step) all.push_back(i);
    return all;
}

// Heads of several kinds: row and staggered, few and many touches, with and without priors.
inline std::vector<Kind> kinds() {
    const auto row = rows(4, 112, 44, 0, 0.08), staggered = rows(6, 96, 40, 24, 0.05),
               big = rows(16, 60, 30, 40, 0.03);
    return {
        {"row of 8, all touched, yaw prior",
         row,
         every(8),
         0.02,
         {0, 0.002, Vec2::Zero(), std::nullopt},
         0.3},
        {"row of 8, 3 touched, yaw prior", row, {0, 4, 7}, 0.02, {0, 0.002, Vec2::Zero(), std::nullopt}, 0.3},
        {"staggered 12, 6 touched, flat",
         staggered,
         every(12, 2),
         0.01,
         {0, std::nullopt, Vec2::Zero(), std::nullopt},
         0.3},
        {"staggered 12, 1 touched, carry", staggered, {5}, 0.03, {0.003, 0.0005, Vec2(0.4, -0.1), 0.15}, 0.3},
        {"32 guides, 16 touched, flat",
         big,
         every(32, 2),
         0.02,
         {0, std::nullopt, Vec2::Zero(), std::nullopt},
         0.3}};
}

// Share of honest heads that show any suspect.
inline std::size_t false_alarms(const Kind& kind, std::size_t heads, std::uint32_t stream) {
    std::size_t count = 0;
    for (std::size_t h = 0; h < heads; ++h) {
        Draw draw(h, stream);
        const Head head = draw_head(kind, draw);
        const find::Sorted sorted = find::sort_out(kind.guides, head.readings, kind.prior);
        if (sorted.kept.size() != head.readings.size()) ++count;
    }
    return count;
}

// Moves the reading at `which` by `size` standard deviations of its prediction from the other honest ones.
inline void spoil(const Kind& kind, Head& head, std::size_t which, double size,
                  const std::vector<std::size_t>& also_bad, Draw& draw) {
    std::vector<find::Reading> others;
    for (std::size_t i = 0; i < head.readings.size(); ++i) {
        bool good = i != which;
        for (const std::size_t bad : also_bad) good = good && i != bad;
        if (good) others.push_back(head.readings[i]);
    }
    const auto pose = find::fit_pose(kind.guides, others, kind.prior);
    find::Reading& reading = head.readings[which];
    Mat2 spread = pose->covariance(kind.guides[reading.guide].map);
    const double scatter = kind.guides[reading.guide].scatter;
    spread.diagonal().array() += scatter * scatter + reading.sd * reading.sd;
    const double angle = 2 * 3.141592653589793 * draw.uniform();
    const Vec2 unit(std::cos(angle), std::sin(angle));
    // Along `unit` an error of this length has d = size.
    const double det = spread.determinant();
    const Vec2 solved = Vec2(spread(1, 1) * unit.x() - spread(0, 1) * unit.y(),
                             spread(0, 0) * unit.y() - spread(0, 1) * unit.x()) /
                        det;
    reading.at += size / std::sqrt(unit.dot(solved)) * unit;
}

// Heads with `bad` gross errors of `size` sd in which not all of them are set aside.
struct Missed {
    std::size_t missed = 0;     // a bad touch was kept
    std::size_t good_lost = 0;  // a good touch was set aside
};
inline Missed missed_errors(const Kind& kind, std::size_t heads, std::size_t bad, double size,
                            std::uint32_t stream) {
    Missed result;
    for (std::size_t h = 0; h < heads; ++h) {
        Draw draw(h, stream);
        Head head = draw_head(kind, draw);
        std::vector<std::size_t> which;
        while (which.size() < bad) {
            const std::size_t i = draw.below(head.readings.size());
            bool fresh = true;
            for (const std::size_t w : which) fresh = fresh && w != i;
            if (fresh) which.push_back(i);
        }
        const Head honest = head;
        for (const std::size_t i : which) {
            Head one = honest;
            spoil(kind, one, i, size, which, draw);
            head.readings[i] = one.readings[i];
        }
        const find::Sorted sorted = find::sort_out(kind.guides, head.readings, kind.prior);
        bool all = true, lost = false;
        for (std::size_t i = 0; i < head.readings.size(); ++i) {
            bool is_bad = false;
            for (const std::size_t w : which) is_bad = is_bad || w == i;
            if (is_bad && !sorted.suspect[i]) all = false;
            if (!is_bad && sorted.suspect[i]) lost = true;
        }
        if (!all) ++result.missed;
        if (lost) ++result.good_lost;
    }
    return result;
}

// Coverage of 95 % ellipses and, in ten bins of predicted enter probability, how often pilots entered.
struct Calibration {
    std::size_t guides = 0, covered = 0;
    struct Bin {
        std::size_t n = 0, entered = 0;
        double predicted = 0, variance = 0;  // sums of p and p(1 − p)
    };
    std::array<Bin, 10> bins{};
};
inline Calibration calibrate(const Kind& kind, std::size_t heads, std::uint32_t stream) {
    constexpr double ellipse95 = 5.991464547107979;  // chi-square(2) at 0.95: −2·ln 0.05
    constexpr double positioning = 0.01;
    Calibration result;
    for (std::size_t h = 0; h < heads; ++h) {
        Draw draw(h, stream);
        const Head head = draw_head(kind, draw);
        const auto pose = find::fit_pose(kind.guides, head.readings, kind.prior);
        const auto read = find::combine(kind.guides.size(), head.readings);
        const std::size_t v = draw.below(kind.guides.size());  // one guide a head: independent trials
        const find::Place place = find::place_guide(kind.guides[v], read[v], *pose);
        const Vec2 miss = head.truth[v] - place.at;
        const double det = place.covariance.determinant();
        const double d2 =
            (place.covariance(1, 1) * miss.x() * miss.x() - 2 * place.covariance(0, 1) * miss.x() * miss.y() +
             place.covariance(0, 0) * miss.y() * miss.y()) /
            det;
        ++result.guides;
        if (d2 <= ellipse95) ++result.covered;
        // A programmed point somewhere near and a clearance drawn so that every probability occurs.
        const double sd = std::sqrt(0.5 * place.covariance.trace());
        const Vec2 programmed = place.at + draw.vec(0.7 * sd);
        const double clearance = sd * (0.3 + 3.2 * draw.uniform());
        const double p = find::enter_probability(place, programmed, positioning, clearance);
        const bool entered = (head.truth[v] + draw.vec(positioning) - programmed).norm() <= clearance;
        auto& bin = result.bins[std::min<std::size_t>(9, static_cast<std::size_t>(10 * p))];
        ++bin.n;
        bin.entered += entered ? 1 : 0;
        bin.predicted += p;
        bin.variance += p * (1 - p);
    }
    return result;
}

}  // namespace seatwright::simulation
