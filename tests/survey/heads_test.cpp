// Heads of every kind of the trade, read by a simulated shop and described again: how far from the truth, and
// whether the uncertainty says so: 306 of each in ./check, 5 400 in ./check --all, against the same limits
// (docs/survey.md has the figures).
#include <gtest/gtest.h>

#include <Eigen/LU>
#include <functional>

#include "draws.hpp"
#include "share.hpp"
#include "survey/simulated.hpp"
#include "survey/surveyed.hpp"

namespace seatwright::survey {
namespace {

// Quantiles of chi-square at 0.95, 2 and 3 degrees of freedom (published tables, e.g.
// NIST/SEMATECH 1.3.6.7.4).
constexpr double inside_2 = 5.991465, inside_3 = 7.814728;

std::size_t heads_asked() {
    return static_cast<std::size_t>(drawn(306, 5400, 72));
}

struct Score {
    std::size_t drawn = 0, reported = 0, place = 0, lean = 0, blamed = 0, refused = 0;
    double worst_xy = 0, worst_z = 0, worst_incline = 0;
};

// One guide of one head, drawn by chance.
void score(const Survey& found, const simulated::Head& head, simulated::Normal& normal, Score& score) {
    const auto truth = simulated::in_survey_frame(head, [&](const std::string& id, std::size_t axis) {
        const auto& v = valve(found, id);
        return axis == 0 ? v.x.value.has_value() : v.y.value.has_value();
    });
    const auto& g = truth.guides[normal.below(truth.guides.size())];
    const Valve& v = valve(found, g.id);
    ++score.drawn;
    if (!v.whole()) return;
    ++score.reported;
    const Vec3 d(*v.x.value - g.at[0], *v.y.value - g.at[1], *v.z.value - g.at[2]);
    if (d.dot(v.covariance.inverse() * d) <= inside_3) ++score.place;
    const double i = (deg(*v.incline.value) - g.incline) / deg(v.incline.u);
    const double c = (deg(*v.cant.value) - g.cant) / deg(v.cant.u);
    if (i * i + c * c <= inside_2) ++score.lean;
    for (const auto& each : found.valves) {
        // One head in a thousand scatters beyond its sds by chance and gets larger uncertainties for it.
        if (!each.whole() || found.scatter > 1) continue;
        score.worst_xy = std::max({score.worst_xy, each.x.u, each.y.u});
        score.worst_z = std::max(score.worst_z, each.z.u);
        score.worst_incline = std::max(score.worst_incline, deg(each.incline.u));
    }
}

void expect_95_percent(std::size_t inside, std::size_t of, const char* what) {
    expect_share(inside, of, 0.945, 0.955, what);
}

TEST(SurveyedHeads, EllipsoidsHoldWhatTheySay) {
    const simulated::Sds sds;
    Score all;
    const std::size_t n = heads_asked();
    for (std::size_t i = 0; i < n; ++i) {
        simulated::Normal normal(1000 + i);
        const auto& layout = simulated::layouts()[i % simulated::layouts().size()];
        const auto head = simulated::head_of(layout, sds, normal);
        simulated::Machine machine(head, sds, normal);
        const auto found = surveyed(machine.read({}).text);
        ASSERT_TRUE(found.whole()) << layout.kind;
        score(found, head, normal, all);
    }
    expect_95_percent(all.place, all.reported, "places");
    expect_95_percent(all.lean, all.reported, "leans");
    // The full procedure, read to 0.02 mm and 0.02 deg.
    EXPECT_LE(all.worst_xy, 0.05);
    EXPECT_LE(all.worst_z, 0.05);
    EXPECT_LE(all.worst_incline, 0.03);
    fmt::print(
        "{} heads: places {:.2f} %, leans {:.2f} %; u at most x, y {:.3f} z {:.3f} mm, incline {:.4f} deg\n",
        n, 100.0 * static_cast<double>(all.place) / static_cast<double>(all.reported),
        100.0 * static_cast<double>(all.lean) / static_cast<double>(all.reported), all.worst_xy, all.worst_z,
        all.worst_incline);
}

// How sure a head becomes hangs on the holes that tie its setups: with the ball on four of them in each
// setup, and pilot and stylus read to 0.005, every place is known as well as one hole is read: to 0.02 where
// they are read to 0.02.
TEST(SurveyedHeads, AsSureAsItsHolesAreRead) {
    for (const double hole : {0.02, 0.05}) {
        simulated::Sds sds;
        sds.point = 0.005;
        sds.hole = hole;
        Score all;
        const std::size_t n = simulated::layouts().size() * static_cast<std::size_t>(drawn(3, 60, 1));
        for (std::size_t i = 0; i < n; ++i) {
            simulated::Normal normal(6'000'000 + i);
            const auto& layout = simulated::layouts()[i % simulated::layouts().size()];
            const auto head = simulated::head_of(layout, sds, normal);
            simulated::Machine machine(head, sds, normal);
            simulated::Procedure how;
            how.holes_a_setup = 4;
            const auto found = surveyed(machine.read(how).text);
            ASSERT_TRUE(found.whole()) << layout.kind;
            score(found, head, normal, all);
        }
        fmt::print("holes to {}: {} heads, u at most x, y {:.4f} z {:.4f} mm, incline {:.4f} deg\n", hole, n,
                   all.worst_xy, all.worst_z, all.worst_incline);
        EXPECT_LE(all.worst_xy, hole);
        EXPECT_LE(all.worst_z, hole);
        EXPECT_LE(all.worst_incline, 0.03);
    }
}

// Blocks of a readings file, each from its [[ to the next.
std::vector<std::string> blocks_of(const std::string& text) {
    std::vector<std::string> out;
    for (std::size_t at = 0; at < text.size();) {
        const auto next = std::min(text.find("\n[[", at), text.size() - 1) + 1;
        out.push_back(text.substr(at, next - at));
        at = next;
    }
    return out;
}

std::string joined(const std::vector<std::string>& blocks) {
    std::string out;
    for (const auto& block : blocks) out += block;
    return out;
}

bool holds(const std::string& block, const std::string& part) {
    return block.find(part) != std::string::npos;
}

// One figure spoiled as people spoil them: a sign missed, or a digit wrong. `lone`: a head of one cylinder,
// on which nothing checks where a guide or its seat was read; there those are left alone.
std::string spoiled(const std::string& text, bool sign, bool lone, simulated::Normal& normal) {
    auto blocks = blocks_of(text);
    while (true) {
        auto& block = blocks[normal.below(blocks.size())];
        if (lone && (holds(block, "[[point]]") && holds(block, "id = \"1"))) continue;
        constexpr std::array keys{"\nx = ", "\ny = ", "\nz = ", "\nfirst = ", "\nsecond = "};
        const std::string key = keys[normal.below(keys.size())];
        const auto at = block.find(key);
        if (at == std::string::npos) continue;
        const auto from = at + key.size(), end = block.find('\n', from);
        const double value = std::stod(block.substr(from, end - from));
        const double wrong = sign ? -value : value + (normal(1) > 0 ? 10 : -10);
        // Too small to be seen and to do harm.
        if (std::abs(wrong - value) < 5) continue;
        block.replace(from, end - from, fmt::format("{:.6f}", wrong));
        return joined(blocks);
    }
}

// Places of two guides typed under each other's names.
std::string swapped(const std::string& text, const std::string& one, const std::string& other) {
    auto blocks = blocks_of(text);
    for (auto& block : blocks) {
        if (!holds(block, "[[point]]")) continue;
        const std::string a = fmt::format("id = \"{}\"", one), b = fmt::format("id = \"{}\"", other);
        const bool is_a = holds(block, a), is_b = holds(block, b);
        if (is_a) block.replace(block.find(a), a.size(), b);
        if (is_b) block.replace(block.find(b), b.size(), a);
    }
    return joined(blocks);
}

using Spoil =
    std::function<std::string(const std::string&, const simulated::Head&, bool lone, simulated::Normal&)>;

Score spoiled_heads(std::uint64_t seed, const Spoil& spoil) {
    const simulated::Sds sds;
    Score all;
    const auto& layouts = simulated::layouts();
    for (std::size_t i = 0; i < heads_asked(); ++i) {
        simulated::Normal normal(seed + i);
        const auto& layout = layouts[i % layouts.size()];
        const auto head = simulated::head_of(layout, sds, normal);
        simulated::Machine machine(head, sds, normal);
        const auto text = machine.read({}).text;
        const auto readings =
            read_readings(spoil(text, head, layout.cylinders == 1, normal), "readings.toml");
        const auto found = survey(*readings);
        if (!found) {
            ++all.refused;  // with its lines, as contradictory: nothing wrong is reported
            continue;
        }
        score(*found, head, normal, all);
        all.blamed += found->aside.empty() ? 0 : 1;
    }
    fmt::print(
        "{} heads: places {:.2f} %, leans {:.2f} % of the {:.2f} % reported; a reading named on {:.2f} %\n",
        all.drawn, 100.0 * static_cast<double>(all.place) / static_cast<double>(all.reported),
        100.0 * static_cast<double>(all.lean) / static_cast<double>(all.reported),
        100.0 * static_cast<double>(all.reported) / static_cast<double>(all.drawn),
        100.0 * static_cast<double>(all.blamed) / static_cast<double>(all.drawn));
    expect_95_percent(all.place, all.reported, "places");
    expect_95_percent(all.lean, all.reported, "leans");
    EXPECT_LE(200 * all.refused, heads_asked());
    return all;
}

TEST(SurveyedHeads, AMissedSignDoesNotSpoilTheHead) {
    const auto all = spoiled_heads(1'000'000, [](const auto& text, const auto&, bool lone, auto& normal) {
        return spoiled(text, true, lone, normal);
    });
    expect_share(all.blamed, all.drawn, 0.92, 1, "a reading named");
}

TEST(SurveyedHeads, AWrongDigitDoesNotSpoilTheHead) {
    const auto all = spoiled_heads(2'000'000, [](const auto& text, const auto&, bool lone, auto& normal) {
        return spoiled(text, false, lone, normal);
    });
    expect_share(all.blamed, all.drawn, 0.92, 1, "a reading named");
}

TEST(SurveyedHeads, TwoGuidesSwappedAreNamed) {
    const auto all = spoiled_heads(3'000'000, [](const auto& text, const auto& head, bool, auto& normal) {
        const auto n = head.guides.size();
        const auto one = normal.below(n), other = (one + 1 + normal.below(n - 1)) % n;
        return swapped(text, head.guides[one].id, head.guides[other].id);
    });
    expect_share(all.blamed, all.drawn, 0.99, 1, "a reading named");
}

// One reading in ten wrong by 10 mm or 10 deg, on heads of several cylinders: what is reported still holds.
TEST(SurveyedHeads, OneReadingInTenWrong) {
    const simulated::Sds sds;
    Score all;
    const auto& layouts = simulated::layouts();
    for (std::size_t i = 0; i < heads_asked(); ++i) {
        simulated::Normal normal(4'000'000 + i), slip(5'000'000 + i);
        const auto& layout = layouts[i % (layouts.size() - 1)];
        ASSERT_GT(layout.cylinders, 1);
        const auto head = simulated::head_of(layout, sds, normal);
        simulated::Machine machine(head, sds, normal);
        machine.spoil = [&](const std::string&, std::map<std::string, double>& figures) {
            if (slip.below(10) != 0) return;
            constexpr std::array keys{"x", "y", "z", "first", "second"};
            const auto at = figures.find(keys[slip.below(keys.size())]);
            if (at != figures.end()) at->second += slip(1) > 0 ? 10 : -10;
        };
        const auto readings = read_readings(machine.read({}).text, "readings.toml");
        const auto found = survey(*readings);
        if (!found) {
            ++all.refused;
            continue;
        }
        score(*found, head, normal, all);
    }
    fmt::print("{} heads: places {:.2f} %, leans {:.2f} % of the {:.2f} % reported; {} refused\n", all.drawn,
               100.0 * static_cast<double>(all.place) / static_cast<double>(all.reported),
               100.0 * static_cast<double>(all.lean) / static_cast<double>(all.reported),
               100.0 * static_cast<double>(all.reported) / static_cast<double>(all.drawn), all.refused);
    expect_95_percent(all.place, all.reported, "places");
    expect_95_percent(all.lean, all.reported, "leans");
    EXPECT_LE(20 * all.refused, heads_asked());
}

}  // namespace
}  // namespace seatwright::survey
