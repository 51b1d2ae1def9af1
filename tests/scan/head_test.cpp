// What the features are taken for: chambers' edges, plugs' holes, what a person changes, the points to look
// at, and the watch that stops a scan. Truth: the invented head's own surfaces.
#include <gtest/gtest.h>

#include <map>

#include "scan/files.hpp"
#include "scan/made_head.hpp"
#include "seatwright/job/reader.hpp"
#include "seatwright/scan/changes.hpp"
#include "seatwright/scan/job_text.hpp"
#include "seatwright/scan/shown.hpp"
#include "seatwright/scan/surface.hpp"
#include "seatwright/words/in_words.hpp"
#include "spoken.hpp"

namespace seatwright::scan {
namespace {

struct Made {
    made::Head head;
    Cloud cloud;
    Vec3 origin = Vec3::Zero();  // of the head frame in the cloud's
};

Made made_cloud(const made::Form& form, const made::Noise& noise, std::size_t count, std::uint64_t seed = 1) {
    Made out;
    made::Rng rng(seed);
    out.head = made::head_of(form);
    const auto points =
        made::cloud_of(out.head, made::evenly_over(out.head.surfaces, count, rng), noise, rng);
    out.cloud.points = Points(points.size());
    for (std::size_t i = 0; i < points.size(); ++i)
        out.cloud.points[i] = {static_cast<float>(points[i].x()), static_cast<float>(points[i].y()),
                               static_cast<float>(points[i].z())};
    out.cloud.format = "made";
    out.cloud.in_file = points.size();
    out.origin = (out.head.valves[0].gauge + out.head.valves[1].gauge) / 2;
    out.origin.z() = 0;
    return out;
}

TEST(HeadOfAScan, ChambersAndPlugs) {
    made::Form form;
    form.cylinders = 3;
    form.chambers = true;
    const auto made = made_cloud(form, {0.02, 0.3, 0}, 300'000);
    const auto scan = scan_of(made.cloud, "made", {});
    ASSERT_TRUE(scan) << scan.error().front().text;
    ASSERT_EQ(scan->valves.size(), 6U);
    std::map<survey::HoleKind, int> kinds;
    for (const auto& h : scan->holes) ++kinds[h.kind];
    EXPECT_EQ(kinds[survey::HoleKind::bolt], 8);
    EXPECT_EQ(kinds[survey::HoleKind::plug], 3);
    EXPECT_EQ(kinds[survey::HoleKind::other], 0);
    for (const auto& h : scan->holes) {
        if (h.kind != survey::HoleKind::plug) continue;
        const auto at = [&](const Vec3& p) {
            return std::hypot(*h.x.value - p.x() + made.origin.x(), *h.y.value - p.y() + made.origin.y());
        };
        const auto truth = std::min_element(made.head.plugs.begin(), made.head.plugs.end(),
                                            [&](const Vec3& a, const Vec3& b) { return at(a) < at(b); });
        EXPECT_LT(at(*truth), 5 * std::hypot(h.x.u, h.y.u)) << h.id;
        EXPECT_NEAR(*h.diameter.value, 2 * made::plug_radius, 5 * h.diameter.u) << h.id;
        const Vec3 a = made::plug_axis();
        EXPECT_NEAR(*h.incline.value, std::atan2(a.y(), a.z()), 5 * h.incline.u) << h.id;
        EXPECT_NEAR(*h.cant.value, std::atan2(a.x(), a.z()), 5 * h.cant.u) << h.id;
    }
    // The recess is a circle: every corner of its edge lies on it, and its area is the circle's.
    ASSERT_EQ(scan->chambers.size(), 3U);
    for (const auto& c : scan->chambers) {
        EXPECT_EQ(c.valves.size(), 2U) << c.cylinder;
        const Vec2 middle((c.cylinder - 1) * form.spacing - made.origin.x(), -made.origin.y());
        double squares = 0;
        for (const auto& p : c.outline) squares += std::pow((p - middle).norm() - made::chamber_radius, 2);
        const double rms = std::sqrt(squares / static_cast<double>(c.outline.size()));
        EXPECT_LT(rms, 1.5 * c.u) << c.cylinder;
        EXPECT_GT(rms, 0.2 * c.u) << "its uncertainty is said far too large";
        EXPECT_NEAR(c.area, pi * made::chamber_radius * made::chamber_radius,
                    2 * pi * made::chamber_radius * c.u);
        EXPECT_LT(c.u, 1.0);
    }
    const auto job = job_text(*scan);
    ASSERT_TRUE(job);
    const auto read = job::read_job(*job, "job.toml", {});
    ASSERT_TRUE(read) << to_line(read.error().front());
    EXPECT_EQ(read->head.obstacles.size(), 3U);
}

// Without a recess each valve's own well opens in the deck: an ellipse of its wall cut square to the deck.
TEST(HeadOfAScan, WellsOpenInTheDeck) {
    made::Form form;
    form.cylinders = 2;
    const auto made = made_cloud(form, {}, 250'000);
    const auto scan = scan_of(made.cloud, "made", {});
    ASSERT_TRUE(scan);
    ASSERT_EQ(scan->chambers.size(), 4U);
    for (const auto& c : scan->chambers) {
        ASSERT_EQ(c.valves.size(), 1U);
        const auto v = std::find_if(made.head.valves.begin(), made.head.valves.end(),
                                    [&](const auto& one) { return one.id == c.valves.front(); });
        ASSERT_NE(v, made.head.valves.end());
        for (const auto& s : made.head.surfaces)
            if (std::string(s.name) == "well" && (s.at - v->gauge).norm() < 1e-9) {
                EXPECT_NEAR(c.area, pi * s.rho0 * s.rho0 / v->axis().z(), 2 * pi * s.rho0 * c.u)
                    << c.valves.front();
            }
    }
}

// An edge that goes on to the end of what was scanned is no chamber's.
TEST(HeadOfAScan, AnEdgeNotSeenAllRoundIsNone) {
    made::Form form;
    form.cylinders = 2;
    form.chambers = true;
    auto made = made_cloud(form, {}, 250'000);
    std::size_t n = 0;
    for (std::size_t i = 0; i < made.cloud.points.size(); ++i) {
        const auto p = made.cloud.points[i];
        const bool cut = p.z > -2 && p.x < 0 && p.y > -20 && p.y < 20;
        if (!cut) made.cloud.points[n++] = p;
    }
    made.cloud.points.shrink(n);
    const auto scan = scan_of(made.cloud, "made", {});
    ASSERT_TRUE(scan);
    ASSERT_EQ(scan->chambers.size(), 1U);
    EXPECT_EQ(scan->chambers[0].cylinder, 2);
}

TEST(HeadOfAScan, PointsToLookAtLieOnWhatTheySay) {
    made::Form form;
    form.cylinders = 2;
    const auto made = made_cloud(form, {0.02, 0.2, 0}, 200'000);
    const auto surface = surface_of(made.cloud, "made", {}, 20'000, {});
    ASSERT_TRUE(surface);
    EXPECT_LE(surface->few.size(), 20'000U);
    const auto scan = scan_of(*surface, {});
    ASSERT_TRUE(scan);
    std::map<On, std::size_t> count;
    for (const auto& p : shown_of(surface->few, *scan)) {
        ++count[p.on];
        const Vec3 at = p.at.vec();
        if (p.on == On::deck) {
            EXPECT_LT(std::abs(at.z()), 0.1);
        }
        if (p.on != On::guide) continue;
        const auto& v = scan->valves[p.which];
        const auto t = std::find_if(made.head.valves.begin(), made.head.valves.end(),
                                    [&](const auto& one) { return one.id == v.id; });
        const Vec3 d = at + made.origin - t->gauge, a = t->axis();
        EXPECT_NEAR((d - a.dot(d) * a).norm(), t->bore / 2, 0.12) << v.id;
    }
    EXPECT_GT(count[On::guide], 200U);
    EXPECT_GT(count[On::seat], 100U);
    EXPECT_GT(count[On::hole], 100U);
    EXPECT_GT(surface->few.size(), 2 * count[On::deck] - count[On::deck] / 5) << "half is off the deck";
}

TEST(HeadOfAScan, TurnedEndForEndWithoutLookingAgain) {
    made::Form form;
    form.cylinders = 3;
    const auto made = made_cloud(form, {}, 150'000);
    const auto surface = surface_of(made.cloud, "made", {}, 0, {});
    ASSERT_TRUE(surface);
    Told told;
    const auto one = scan_of(*surface, told);
    told.end_for_end = true;
    const auto other = scan_of(*surface, told);
    ASSERT_TRUE(one && other);
    ASSERT_EQ(one->valves.size(), other->valves.size());
    // What was first is last, half a turn about.
    const auto named = [](const Scan& scan, const char* id) {
        return *std::find_if(scan.valves.begin(), scan.valves.end(),
                             [&](const Valve& v) { return v.id == id; });
    };
    const Valve first = named(*one, "1I"), last = named(*other, "3I"), middle = named(*one, "3I"),
                turned = named(*other, "1I");
    EXPECT_NEAR(*first.incline.value, -*last.incline.value, 1e-9);
    EXPECT_NEAR(*first.cant.value, -*last.cant.value, 1e-9);
    EXPECT_NEAR(*middle.x.value - *first.x.value, *last.x.value - *turned.x.value, 1e-9);
    EXPECT_NEAR(*first.y.value, -*last.y.value, 0.02) << "the row stands on the same valves";
}

TEST(HeadOfAScan, APersonChangesAndConfirms) {
    made::Form form;
    form.cylinders = 2;
    const auto made = made_cloud(form, {}, 150'000);
    const auto scan = scan_of(made.cloud, "made", {});
    ASSERT_TRUE(scan);
    Changes said;
    said.by = "A. Turner";
    said.valves["1I"].id = "2Ea";
    said.valves["1E"].confirmed = true;
    said.valves["2I"].dropped = true;
    said.holes[scan->holes[0].id].what = survey::HoleKind::other;
    said.holes[scan->holes[1].id].dropped = true;
    const auto now = changed(*scan, said);
    ASSERT_TRUE(now) << spoken(now.error().front().why);
    ASSERT_EQ(now->valves.size(), 3U);
    EXPECT_EQ(now->valves[0].id, "1E");
    EXPECT_EQ(now->valves[0].confirmed_by, "A. Turner");
    const auto renamed =
        std::find_if(now->valves.begin(), now->valves.end(), [](const Valve& v) { return v.id == "2Ea"; });
    ASSERT_NE(renamed, now->valves.end());
    EXPECT_EQ(renamed->cylinder, 2);
    EXPECT_EQ(renamed->kind, job::Kind::exhaust);
    EXPECT_EQ(now->holes.size(), scan->holes.size() - 1);
    const auto text = job_text(*now);
    ASSERT_TRUE(text);
    EXPECT_NE(text->find("confirmed by A. Turner"), std::string::npos);
    EXPECT_TRUE(job::read_job(*text, "job.toml", {}));

    for (const auto& [id, name] :
         {std::pair{"1I", "intake"}, {"1I", "0I"}, {"1I", "1I2"}, {"1I", "33E"}, {"1I", ""}}) {
        Changes wrong;
        wrong.valves[id].id = name;
        EXPECT_FALSE(changed(*scan, wrong)) << name;
    }
    Changes twice;
    twice.valves["1I"].id = "1E";
    EXPECT_FALSE(changed(*scan, twice)) << "two of one name";
    Changes none;
    none.valves["7I"].dropped = true;
    EXPECT_FALSE(changed(*scan, none)) << "none of that name";
}

TEST(HeadOfAScan, WhatIsInDoubtIsLookedAtFirst) {
    made::Form form;
    form.cylinders = 2;
    const auto made = made_cloud(form, {}, 150'000);
    auto scan = scan_of(made.cloud, "made", {});
    ASSERT_TRUE(scan);
    scan->valves[0].kind.reset();
    const std::string id = scan->valves[0].id;
    EXPECT_FALSE(doubt_of(scan->valves[0]).empty());
    EXPECT_FALSE(changed(*scan, {}));
    Changes said;
    said.valves[id].confirmed = true;
    const auto now = changed(*scan, said);
    ASSERT_TRUE(now);
    EXPECT_TRUE(now->valves[0].kind);
    scan->valves[0].kind = job::Kind::intake;
    scan->valves[1].off_guide = 0.2;
    EXPECT_FALSE(changed(*scan, {}));
}

TEST(HeadOfAScan, AWatchIsToldAndStopsIt) {
    made::Form form;
    form.cylinders = 2;
    const auto made = made_cloud(form, {}, 60'000);
    std::vector<Vec3> points;
    for (const auto& p : made.cloud.points) points.push_back(p.vec());
    const auto text = made::as_xyz(points);
    std::map<Step, double> told;
    std::mutex mutex;
    const auto whole = surface_of(text, "a.xyz", {}, 0, [&](Step step, double part) {
        const std::lock_guard lock(mutex);
        EXPECT_GE(part, 0);
        EXPECT_LE(part, 1 + 1e-12);
        told[step] = std::max(told[step], part);
    });
    ASSERT_TRUE(whole);
    EXPECT_EQ(told.size(), 4U);
    EXPECT_GT(told[Step::reading], 0.9);
    for (const auto stop : {Step::reading, Step::deck, Step::bores, Step::fitting})
        EXPECT_THROW(static_cast<void>(surface_of(text, "a.xyz", {}, 0,
                                                  [&](Step step, double) {
                                                      if (step == stop) throw Stopped{};
                                                  })),
                     Stopped);
}

}  // namespace
}  // namespace seatwright::scan
