// Whole clouds of invented heads against what is true of them: how near the bound of Cramer and Rao places
// and tilts come, whether 95 % intervals hold 95 in a hundred with white noise and with noise that goes
// together, and that nothing is taken for a bore that is none. Bounds: sd(place) = s·√(2/N), sd(tilt) =
// s·√(24/N)/L per axis for radial white noise s, N points evenly over a length L (worked out from the Fisher
// information).
#include <gtest/gtest.h>

#include <map>

#include "draws.hpp"
#include "scan/made_head.hpp"
#include "seatwright/scan/find.hpp"
#include "seatwright/scan/scan.hpp"
#include "seatwright/words/in_words.hpp"
#include "share.hpp"

namespace seatwright::scan {
namespace {

constexpr std::size_t in_cloud = 200'000;

struct Drawn {
    made::Head head;
    std::vector<made::Sample> places;
    Cloud cloud;
};

Drawn draw(const made::Form& form, const made::Noise& noise, std::uint64_t seed,
           std::size_t points_in_all = in_cloud) {
    Drawn out;
    made::Rng rng(seed);
    out.head = made::head_of(form);
    out.places = made::evenly_over(
        out.head.surfaces,
        static_cast<std::size_t>((1 - noise.outliers) * static_cast<double>(points_in_all)), rng);
    const auto points = made::cloud_of(out.head, out.places, noise, rng);
    out.cloud.points = Points(points.size());
    for (std::size_t i = 0; i < points.size(); ++i) {
        const Vec3& p = points[i];
        out.cloud.points[i] = {static_cast<float>(p.x()), static_cast<float>(p.y()),
                               static_cast<float>(p.z())};
    }
    out.cloud.format = "made";
    out.cloud.in_file = points.size();
    return out;
}

// 1.2 times the bound is asked: then 95 in a hundred lie within 1.96 times that.
TEST(Clouds, GuidesComeNearTheBound) {
    constexpr double near = 1.96 * 1.2;
    const int clouds = drawn(16, 300, 4);
    double place = 0, tilt = 0, worst = 0;
    std::size_t places_near = 0, tilts_near = 0, n = 0;
    for (int k = 0; k < clouds; ++k) {
        const auto d = draw({}, {}, 100 + static_cast<std::uint64_t>(k));
        const auto found = find(d.cloud, 1);
        ASSERT_TRUE(found);
        std::map<std::size_t, double> counts;
        for (const auto& s : d.places) ++counts[s.surface];
        for (std::size_t f = 0; f < d.head.surfaces.size(); ++f) {
            const auto& guide = d.head.surfaces[f];
            if (std::string(guide.name) != "guide") continue;
            const FoundBore* bore = nullptr;
            for (const auto& b : found->bores) {
                const Vec3 off = b.fit.cylinder.at - guide.at;
                if ((off - guide.axis.dot(off) * guide.axis).norm() < 0.5) bore = &b;
            }
            ASSERT_NE(bore, nullptr) << "cloud " << k << ": a guide is not found";
            const double length = std::abs(guide.s1 - guide.s0);
            const double bound_place = 0.02 * std::sqrt(2 / counts[f]),
                         bound_tilt = 0.02 * std::sqrt(24 / counts[f]) / length;
            const auto& c = bore->fit.cylinder;
            const Vec3 middle = guide.at + (guide.s0 + guide.s1) / 2 * guide.axis;
            const Vec3 at = c.at + guide.axis.dot(middle - c.at) / guide.axis.dot(c.axis) * c.axis;
            const Across frame = across(guide.axis);
            for (const Vec3& way : {frame.u, frame.v}) {
                const double p = way.dot(at - middle) / bound_place,
                             t = way.dot(c.axis - guide.axis) / bound_tilt;
                place += p * p;
                tilt += t * t;
                worst = std::max({worst, std::abs(p), std::abs(t)});
                places_near += std::abs(p) < near ? 1 : 0;
                tilts_near += std::abs(t) < near ? 1 : 0;
                ++n;
            }
        }
        EXPECT_EQ(found->bores.size(), 18U) << "cloud " << k;
    }
    expect_share(places_near, n, 0.95, 1, "places");
    expect_share(tilts_near, n, 0.95, 1, "tilts");
    EXPECT_LT(worst, 6);
    const auto rms = [&](double squares) {
        return std::to_string(std::sqrt(squares / static_cast<double>(n)));
    };
    RecordProperty("place", rms(place));
    RecordProperty("tilt", rms(tilt));
    RecordProperty("worst", std::to_string(worst));
}

// 40 mm seen of each guide, five million points: every guide of a cloud within 0.002 mm and 0.004 deg, in 99
// of 100.
TEST(Clouds, OfFiveMillionPointsEveryGuideIsWithinMicrometres) {
    made::Form form;
    form.guide_seen = 40;
    const int clouds = drawn(1, 25);
    int beyond = 0;
    double worst_place = 0, worst_tilt = 0;
    for (int k = 0; k < clouds; ++k) {
        const auto d = draw(form, {}, 11000 + static_cast<std::uint64_t>(k), 5'000'000);
        const auto found = find(d.cloud, 1);
        ASSERT_TRUE(found);
        bool all = true;
        for (const auto& guide : d.head.surfaces) {
            if (std::string(guide.name) != "guide") continue;
            const Vec3 middle = guide.at + (guide.s0 + guide.s1) / 2 * guide.axis;
            double place = 1, tilt = 1;
            for (const auto& b : found->bores) {
                const auto& c = b.fit.cylinder;
                const Vec3 off = middle - c.at;
                const double far = (off - c.axis.dot(off) * c.axis).norm();
                if (far > 0.5) continue;
                place = far;
                tilt = deg(std::asin(c.axis.cross(guide.axis).norm()));
            }
            worst_place = std::max(worst_place, place);
            worst_tilt = std::max(worst_tilt, tilt);
            all = all && place < 0.002 && tilt < 0.004;
        }
        beyond += all ? 0 : 1;
    }
    EXPECT_LE(beyond, clouds / 100);
    RecordProperty("worst_mm", std::to_string(worst_place));
    RecordProperty("worst_deg", std::to_string(worst_tilt));
}

// How often 1.96 u take in what is true, over x, y, z, incline, cant, bore and gauge of every valve. A figure
// left open, of which nothing wrong is said, may be one in 500.
void expect_coverage(const made::Noise& noise, int clouds, std::uint64_t seed) {
    struct Seen {
        std::size_t told = 0, held = 0;
    };
    std::map<std::string, Seen> seen;
    std::size_t open = 0, asked = 0;
    for (int k = 0; k < clouds; ++k) {
        const auto d = draw({}, noise, seed + static_cast<std::uint64_t>(k));
        const auto scan = scan_of(d.cloud, "made", {});
        ASSERT_TRUE(scan) << scan.error().front().text;
        ASSERT_EQ(scan->valves.size(), d.head.valves.size());
        const Vec3 origin = (d.head.valves[0].gauge + d.head.valves[1].gauge) / 2;
        for (const auto& t : d.head.valves) {
            const auto v = std::find_if(scan->valves.begin(), scan->valves.end(),
                                        [&](const Valve& one) { return one.id == t.id; });
            ASSERT_NE(v, scan->valves.end()) << t.id;
            EXPECT_EQ(v->kind == job::Kind::intake, t.intake);
            const auto put = [&](const std::string& what, const Figure& f, double truth) {
                ++asked;
                if (!f.value) {
                    ++open;
                    return;
                }
                ++seen[what].told;
                seen[what].held += std::abs(*f.value - truth) < 1.96 * f.u ? 1 : 0;
            };
            put("place", v->x, t.gauge.x() - origin.x());
            put("place", v->y, t.gauge.y() - origin.y());
            put("height", v->z, t.gauge.z());
            put("lean", v->incline, t.incline);
            put("lean", v->cant, t.cant);
            put("bore", v->bore, t.bore);
            put("gauge", v->gauge, t.gauge_diameter);
        }
    }
    expect_share(open, asked, 0, 0.002, "figures left open");
    for (const auto& [what, count] : seen) {
        expect_share(count.held, count.told, 0.93, 0.97, what.c_str());
        testing::Test::RecordProperty(
            what, std::to_string(static_cast<double>(count.held) / static_cast<double>(count.told)));
    }
}

TEST(Clouds, IntervalsHoldWhiteNoise) {
    expect_coverage({}, drawn(12, 200, 3), 5000);
}

TEST(Clouds, IntervalsHoldNoiseThatGoesTogether) {
    expect_coverage({0.02, 0.3, 1.0}, drawn(12, 200, 3), 6000);
}

// Domes, bent ports, half-round grooves, pairs of parallel walls; 16 mm of bore; sd 0.1; 30 % outliers.
TEST(Clouds, NothingElseIsTakenForABore) {
    made::Form form;
    form.distractors = true;
    form.guide_seen = 16;
    for (int k = 0; k < drawn(10, 200, 3); ++k) {
        const auto d = draw(form, {0.1, 0.3, 0}, 7000 + static_cast<std::uint64_t>(k));
        const auto scan = scan_of(d.cloud, "made", {});
        ASSERT_TRUE(scan) << scan.error().front().text;
        EXPECT_LE(scan->valves.size(), d.head.valves.size()) << "cloud " << k;
        const Vec3 origin = (d.head.valves[0].gauge + d.head.valves[1].gauge) / 2;
        for (const auto& v : scan->valves) {
            const auto near = [&](const made::Valve& t) {
                return std::hypot(*v.x.value - t.gauge.x() + origin.x(),
                                  *v.y.value - t.gauge.y() + origin.y()) < 1;
            };
            EXPECT_TRUE(std::any_of(d.head.valves.begin(), d.head.valves.end(), near))
                << "cloud " << k << " " << v.id;
        }
        for (const auto& h : scan->holes)
            EXPECT_EQ(h.kind, survey::HoleKind::bolt) << "cloud " << k << " " << h.id;
    }
}

TEST(Clouds, WhatIsTooShortIsSaidAndNotTaken) {
    made::Form form;
    form.short_bores = true;
    for (int k = 0; k < drawn(5, 50, 2); ++k) {
        const auto d = draw(form, {}, 8000 + static_cast<std::uint64_t>(k));
        const auto scan = scan_of(d.cloud, "made", {});
        ASSERT_TRUE(scan) << scan.error().front().text;
        EXPECT_TRUE(scan->valves.empty()) << "cloud " << k;
        const auto guides = std::count_if(scan->missing.begin(), scan->missing.end(), [](const auto& m) {
            const auto what = in_words(m.what, {LengthUnit::mm});
            return what.starts_with("guide ") || what.starts_with("axis");
        });
        EXPECT_GT(guides, 0) << "cloud " << k;
    }
}

TEST(Clouds, PinsStandForTheirGuides) {
    made::Form form;
    form.pins = true;
    for (int k = 0; k < drawn(5, 50, 2); ++k) {
        const auto d = draw(form, {}, 9000 + static_cast<std::uint64_t>(k));
        const auto scan = scan_of(d.cloud, "made", {});
        ASSERT_TRUE(scan) << scan.error().front().text;
        ASSERT_EQ(scan->valves.size(), d.head.valves.size());
        for (const auto& v : scan->valves) EXPECT_TRUE(v.pin) << v.id;
    }
}

// The same cloud gives the same bits again.
TEST(Clouds, SameCloudSameBits) {
    const auto d = draw({}, {}, 42);
    const auto a = scan_of(d.cloud, "made", {}), b = scan_of(d.cloud, "made", {});
    ASSERT_TRUE(a && b);
    ASSERT_EQ(a->valves.size(), b->valves.size());
    for (std::size_t i = 0; i < a->valves.size(); ++i) {
        EXPECT_EQ(*a->valves[i].x.value, *b->valves[i].x.value);
        EXPECT_EQ(*a->valves[i].incline.value, *b->valves[i].incline.value);
        EXPECT_EQ(a->valves[i].z.u, b->valves[i].z.u);
    }
}

// What a scanner sees from above, by rays on the surfaces themselves: the bores' far sides and ends in
// shadow.
TEST(Clouds, AScannersShadow) {
    made::Form form;
    form.cylinders = 2;
    const auto head = made::head_of(form);
    made::Rng rng(3);
    const auto round = [](const Vec3& axis, std::initializer_list<double> leans) {
        std::vector<Vec3> ways;
        const Across f = across(axis);
        for (int k = 0; k < 12; ++k)
            for (const double lean : leans)
                ways.push_back(
                    (-axis + std::tan(lean) * (std::cos(k * pi / 6) * f.u + std::sin(k * pi / 6) * f.v))
                        .normalized());
        return ways;
    };
    // The whole from above, then near each hole and, down to the end of what is seen, each guide.
    auto places = made::seen_from(head.surfaces, round(Vec3::UnitZ(), {0.2, 0.5}), head.half_x, head.half_y,
                                  head.middle, 100'000, rng);
    const auto add = [&](const Vec3& axis, std::initializer_list<double> leans, double half, const Vec3& at,
                         std::size_t n) {
        const auto more = made::seen_from(head.surfaces, round(axis, leans), half, half, at, n, rng);
        places.insert(places.end(), more.begin(), more.end());
    };
    for (const auto& b : head.bolts) add(Vec3::UnitZ(), {0.3, 0.6}, 8, {b.x(), b.y(), 0}, 2500);
    for (const auto& v : head.valves) {
        add(v.axis(), {0.2, 0.35}, 22, v.gauge, 15'000);
        add(v.axis(), {0.2, 0.3, 0.5}, 5, v.gauge - 28 * v.axis(), 9'000);
    }
    const auto points = made::cloud_of(head, places, {0.02, 0.1, 0}, rng);
    Cloud cloud;
    cloud.points = Points(points.size());
    for (std::size_t i = 0; i < points.size(); ++i)
        cloud.points[i] = {static_cast<float>(points[i].x()), static_cast<float>(points[i].y()),
                           static_cast<float>(points[i].z())};
    const auto scan = scan_of(cloud, "made", {});
    ASSERT_TRUE(scan) << scan.error().front().text;
    ASSERT_EQ(scan->valves.size(), head.valves.size());
    const Vec3 origin = (head.valves[0].gauge + head.valves[1].gauge) / 2;
    for (const auto& t : head.valves) {
        const auto v = std::find_if(scan->valves.begin(), scan->valves.end(),
                                    [&](const Valve& one) { return one.id == t.id; });
        ASSERT_NE(v, scan->valves.end()) << t.id;
        EXPECT_NEAR(*v->x.value, t.gauge.x() - origin.x(), 5 * v->x.u) << t.id;
        EXPECT_NEAR(*v->y.value, t.gauge.y() - origin.y(), 5 * v->y.u) << t.id;
        EXPECT_NEAR(*v->incline.value, t.incline, 5 * v->incline.u) << t.id;
        EXPECT_NEAR(*v->cant.value, t.cant, 5 * v->cant.u) << t.id;
        EXPECT_LT(v->length, 42) << "the end of the guide lies in shadow";
        if (v->z.value) {
            EXPECT_NEAR(*v->z.value, t.gauge.z(), 5 * v->z.u + 0.05) << t.id;
        }
    }
}

}  // namespace
}  // namespace seatwright::scan
