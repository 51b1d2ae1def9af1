// Closed forms of one row, a head described and read again from its own description, heads clamped once,
// turned end for end, in inches, and rows whose sign is to be asked.
#include <gtest/gtest.h>

#include <algorithm>

#include "seatwright/hold/hold.hpp"
#include "seatwright/job/reader.hpp"
#include "seatwright/survey/job_text.hpp"
#include "spoken.hpp"
#include "survey/simulated.hpp"
#include "survey/surveyed.hpp"

namespace seatwright::survey {
namespace {

using simulated::layout;

job::Job job_of(const Survey& survey) {
    const auto text = job_text(survey);
    if (!text) throw std::runtime_error("no job");
    const auto job = job::read_job(*text, "job.toml", {});
    if (!job) throw std::runtime_error(words_of(job.error()) + *text);
    return *job;
}

// One row of upright-in-X guides, tilted until they stand plumb, all figures exact: along the readout's Y
// y = (Y − Y₀)·cos φ + (Z − Z₀)·sin φ and z = (Z − Z₀)·cos φ − (Y − Y₀)·sin φ by the turn about X.
TEST(ClosedForm, OfOneRow) {
    constexpr double tilt = 18;
    const double c = std::cos(rad(tilt)), s = std::sin(rad(tilt));
    std::string text = "units = \"mm\"\n[sensor]\nzero = \"deck\"\nsd = \"0.01 deg\"\n";
    const auto point = [&](const std::string& more, double x, double y, double z, const char* axes) {
        const double ry = c * y - s * z, rz = s * y + c * z;
        text += fmt::format("[[point]]\nsetup = \"A\"\ntilt = \"{} deg\"\nswing = 0\n{}\n", tilt, more);
        for (const char* a = axes; *a != '\0'; ++a)
            text += fmt::format("{} = {:.9f}\n", *a, *a == 'x' ? x + 7 : *a == 'y' ? ry - 3 : rz + 11);
    };
    for (const double x : {-55.0, 275.0})
        point(fmt::format("what = \"hole\"\nid = \"H{:.0f}\"\nball = 10\ndiameter = 13.5", x), x, -40,
              std::sqrt(100 - 6.75 * 6.75), "xyz");
    point("what = \"deck\"", 110, 40, 0, "xyz");
    const std::array<double, 3> xs{0, 110, 220};
    for (std::size_t k = 0; k < xs.size(); ++k) {
        const std::string id = std::to_string(k + 1) + "I";
        point("what = \"guide\"\nid = \"" + id + "\"", xs[k], 12, -9, "xy");
        point("what = \"valve head\"\nid = \"" + id + "\"\nhead_height = 2", xs[k], 12 + 2 * s, -9 + 2 * c,
              "z");
    }
    const auto found = surveyed(text);
    ASSERT_TRUE(found.whole());
    for (std::size_t k = 0; k < xs.size(); ++k) {
        const Valve& v = valve(found, std::to_string(k + 1) + "I");
        EXPECT_NEAR(*v.x.value, xs[k], 1e-5);
        EXPECT_NEAR(*v.y.value, 0, 1e-5);  // the origin is the first guide
        EXPECT_NEAR(*v.z.value, -9, 1e-4);
        EXPECT_NEAR(deg(*v.incline.value), tilt, 1e-5);
        EXPECT_NEAR(deg(*v.cant.value), 0, 1e-5);
    }
    ASSERT_EQ(found.holes.size(), 2u);
    EXPECT_NEAR(*found.holes[0].y.value, -52, 1e-4);
}

// What was typed of holes, of guides' X and Y and of valve heads' Z less what the job's own description gives
// at the attitudes found, mm; in each setup the mean is where the readout was zeroed.
struct Again {
    std::vector<double> all, holes;
};

Again read_again(const job::Job& job, const Survey& found) {
    Again out;
    const auto place_of = [&](const Point& p) -> Vec3 {
        if (p.what == What::hole) {
            const auto hole = std::find_if(found.holes.begin(), found.holes.end(),
                                           [&](const auto& h) { return h.id == p.id; });
            const Vec2 near(*hole->x.value, *hole->y.value);
            const auto bolt = std::min_element(
                job.head.bolt_holes.begin(), job.head.bolt_holes.end(),
                [&](const Vec2& a, const Vec2& b) { return (a - near).norm() < (b - near).norm(); });
            const double rim = *p.diameter / 2;
            return {bolt->x(), bolt->y(), std::sqrt(p.ball * p.ball - rim * rim)};
        }
        const auto valve = std::find_if(job.head.valves.begin(), job.head.valves.end(),
                                        [&](const auto& v) { return v.id == p.id; });
        const Vec3 lean = Vec3(std::tan(valve->cant), std::tan(valve->incline), 1).normalized();
        return valve->seat + (p.what == What::valve_head ? *p.head_height : 0) * lean;
    };
    for (const auto& setup : found.setups) {
        const simulated::Attitude at{
            deg(*setup.tilt.value), deg(*setup.swing.value), deg(*setup.yaw.value), {}};
        std::array<std::vector<std::pair<double, bool>>, 3> off;
        for (const auto& p : found.readings.points) {
            if (p.setup != setup.name || p.what == What::deck) continue;
            const Vec3 place = place_of(p);
            const auto r = simulated::turned(at, {place.x(), place.y(), place.z()});
            const std::array typed{p.x, p.y, p.z};
            for (std::size_t k = 0; k < 3; ++k)
                if (typed[k]) off[k].emplace_back(*typed[k] - r[k], p.what == What::hole);
        }
        for (const auto& axis : off) {
            double mean = 0;
            for (const auto& [o, hole] : axis) mean += o / static_cast<double>(axis.size());
            for (const auto& [o, hole] : axis) (hole ? out.holes : out.all).push_back(o - mean);
        }
    }
    out.all.insert(out.all.end(), out.holes.begin(), out.holes.end());
    return out;
}

// The job is read without faults and planned; its setups and map are those the readings were taken at, and
// from its own description every reading comes back within its sd.
TEST(ReadAgain, TheReadingsComeBack) {
    std::vector<double> holes;
    std::size_t n = 0;
    for (const char* kind : {"wedge", "canted", "hemispherical", "pent-roof", "radial, one cylinder"}) {
        simulated::Normal normal(11);
        const simulated::Sds sds;
        const auto head = simulated::head_of(layout(kind), sds, normal);
        simulated::Machine machine(head, sds, normal);
        const auto read = machine.read({});
        const auto found = surveyed(read.text);
        const auto job = job_of(found);
        ASSERT_EQ(job.head.valves.size(), head.guides.size()) << kind;
        const auto plan = hold::plan(job);
        for (const auto& setup : plan.setups)
            for (const auto& held : setup.valves) {
                EXPECT_TRUE(held.reachable) << kind << " " << job.head.valves[held.valve].id;
                // As it stood when it was read: within what a setup was off and the lean's uncertainty.
                const auto& at = read.setups.at(read.setup_of.at(job.head.valves[held.valve].id));
                EXPECT_NEAR(deg(setup.tilt), at.tilt, 0.35) << kind;
                EXPECT_NEAR(deg(setup.swing), at.swing, 0.35) << kind;
            }
        const auto again = read_again(job, found);
        n += again.all.size();
        for (const double off : again.all) EXPECT_LT(std::abs(off), 3 * sds.point) << kind;
        for (const double off : again.holes) holes.push_back(off);
    }
    EXPECT_GT(n, 200u);
    // Holes are read in every setup: they come back as readings that stray by their sds do from a fit of
    // several, no nearer and no further.
    double squares = 0;
    for (const double off : holes) squares += off * off;
    const double rms = std::sqrt(squares / static_cast<double>(holes.size()));
    EXPECT_LT(rms, 1.1 * simulated::Sds{}.point);
    EXPECT_GT(rms, 0.3 * simulated::Sds{}.point);
}

// Two holes by X and Y only and no height of the deck: from the third setup on the turning axis has it.
TEST(ClampedOnce, TheTurningAxisReplacesDeckHeights) {
    simulated::Normal normal(21);
    simulated::Sds sds;
    const auto head = simulated::head_of(layout("pent-roof"), sds, normal);
    simulated::Machine machine(head, sds, normal);
    simulated::Attitude axes;
    axes.yaw = 0.05;
    axes.shift = {30, -12, 25};
    machine.clamped_once = axes;
    auto how = simulated::Procedure{};
    how.top = "clamped = \"once\"\n";
    // Setup B's deck is never read: its lines of the deck and the Z of its holes are taken out.
    const auto strip = [](std::string text) {
        std::string out;
        for (std::size_t at = 0; at < text.size();) {
            const auto next = std::min(text.find("\n[[", at), text.size() - 1) + 1;
            std::string block = text.substr(at, next - at);
            at = next;
            if (block.find("setup = \"B\"") != std::string::npos) {
                if (block.find("what = \"deck\"") != std::string::npos) continue;
                if (block.find("what = \"hole\"") != std::string::npos) {
                    const auto z = block.find("\nz = ");
                    block.erase(z, block.find('\n', z + 1) - z);
                }
            }
            out += block;
        }
        return out;
    };
    const auto text = strip(machine.read(how).text);
    const auto shared = surveyed(text);
    EXPECT_TRUE(shared.whole());
    const auto truth = simulated::in_survey_frame(head, [](const std::string&, std::size_t) { return true; });
    for (const auto& g : truth.guides) {
        const Valve& v = valve(shared, g.id);
        EXPECT_NEAR(*v.y.value, g.at[1], 5 * v.y.u) << g.id;
        EXPECT_NEAR(*v.z.value, g.at[2], 5 * v.z.u) << g.id;
        EXPECT_LT(v.z.u, 0.3) << g.id;
    }
    std::string anew = text;
    anew.replace(anew.find("clamped = \"once\""), 16, "clamped = \"anew\"");
    EXPECT_FALSE(valve(surveyed(anew), "1Ea").z.value);
}

// A readout that counts the other way, told by x_sign or taken as the head turned end for end.
TEST(EndForEnd, CylindersNumberedAgainstTheReadout) {
    simulated::Normal normal(31);
    const simulated::Sds sds;
    const auto head = simulated::head_of(layout("canted"), sds, normal);
    simulated::Machine machine(head, sds, normal);
    // The same head turned half a turn on the table.
    machine.spoil = [](const std::string& line, std::map<std::string, double>& figures) {
        for (const char* key : {"x", "y", "tilt", "swing", "first", "second"})
            if (figures.count(key) > 0) figures[key] = -figures[key];
        (void)line;
    };
    const auto found = surveyed(machine.read({}).text);
    ASSERT_TRUE(found.whole());
    const auto truth = simulated::in_survey_frame(head, [](const std::string&, std::size_t) { return true; });
    for (const auto& g : truth.guides) {
        const Valve& v = valve(found, g.id);
        EXPECT_NEAR(*v.x.value, g.at[0], 5 * v.x.u);
        EXPECT_NEAR(*v.y.value, g.at[1], 5 * v.y.u);
        EXPECT_NEAR(deg(*v.incline.value), g.incline, 5 * deg(v.incline.u));
        EXPECT_NEAR(deg(*v.cant.value), g.cant, 5 * deg(v.cant.u));
    }
    EXPECT_TRUE(std::any_of(found.assumptions.begin(), found.assumptions.end(),
                            [](const Sentence& a) { return spoken(a).find("x_sign") != std::string::npos; }));
}

TEST(EndForEnd, AReadoutThatCountsTheOtherWayIsToldByItsSign) {
    simulated::Normal normal(31);
    const simulated::Sds sds;
    const auto head = simulated::head_of(layout("canted"), sds, normal);
    simulated::Machine machine(head, sds, normal);
    machine.spoil = [](const std::string&, std::map<std::string, double>& figures) {
        if (figures.count("x") > 0) figures["x"] = -figures["x"];
    };
    auto text = machine.read({}).text;
    text.insert(text.find("[sensor]"), "[readout]\nx_sign = -1\n");
    const auto found = surveyed(text);
    ASSERT_TRUE(found.whole());
    EXPECT_TRUE(found.aside.empty());
    const auto truth = simulated::in_survey_frame(head, [](const std::string&, std::size_t) { return true; });
    for (const auto& g : truth.guides) {
        EXPECT_NEAR(*valve(found, g.id).x.value, g.at[0], 5 * valve(found, g.id).x.u);
        EXPECT_NEAR(*valve(found, g.id).y.value, g.at[1], 5 * valve(found, g.id).y.u);
    }
    text.replace(text.find("x_sign = -1"), 11, "x_sign = 2");
    EXPECT_EQ(refused(text).size(), 1u);
}

// A sign that is wrong in a whole row is asked for with a picture, never set aside as if it were one slip,
// and the figures that hang on it are not reported.
TEST(Signs, OfAWholeRowAreAsked) {
    simulated::Normal normal(41);
    const simulated::Sds sds;
    const auto head = simulated::head_of(layout("hemispherical"), sds, normal);
    simulated::Machine machine(head, sds, normal);
    machine.spoil = [](const std::string& line, std::map<std::string, double>& figures) {
        const bool of_row = line.find("guide") != std::string::npos &&
                            line.find("E\"") != std::string::npos &&
                            line.find("\"incline\"") != std::string::npos;
        // The lean the other way round; the sensor's own zero stays what it is.
        if (of_row && figures.count("first") > 0) std::swap(figures["first"], figures["second"]);
    };
    const auto found = surveyed(machine.read({}).text);
    for (const auto& v : found.valves)
        EXPECT_EQ(v.incline.value.has_value(), v.name.kind == job::Kind::intake) << v.id;
    EXPECT_TRUE(std::any_of(found.missing.begin(), found.missing.end(), [](const Missing& m) {
        return spoken(m.what).find("which way") != std::string::npos &&
               spoken(m.next).find("look") != std::string::npos;
    }));
}

// Of the first row alone four guides are read, one of them wrong: that one is named and no other.
TEST(BadReadings, OneOfARowOfFourIsNamedAlone) {
    simulated::Normal normal(61);
    const simulated::Sds sds;
    const auto head = simulated::head_of(layout("hemispherical"), sds, normal);
    for (const std::string wrong : {"1I", "2I", "3I", "4I"}) {
        simulated::Machine machine(head, sds, normal);
        machine.spoil = [&](const std::string& line, std::map<std::string, double>& figures) {
            if (line.find("what = \"guide\"") != std::string::npos && line.find(wrong) != std::string::npos &&
                figures.count("x") > 0)
                figures["x"] += 10;
        };
        const auto text = machine.read({}).text;
        std::string one;
        for (std::size_t at = 0; at < text.size();) {
            const auto next = std::min(text.find("\n[[", at), text.size() - 1) + 1;
            if (const auto block = text.substr(at, next - at);
                block.find("setup = \"B\"") == std::string::npos)
                one += block;
            at = next;
        }
        const auto found = surveyed(one);
        ASSERT_FALSE(found.aside.empty()) << wrong;
        for (const auto& a : found.aside)
            EXPECT_NE(spoken(a.what).find(wrong), std::string::npos)
                << spoken(a.what) << ": " << spoken(a.why);
    }
}

TEST(Units, InchesAreReadAndWrittenAsSuch) {
    simulated::Normal normal(51);
    const simulated::Sds sds;
    const auto head = simulated::head_of(layout("wedge"), sds, normal);
    simulated::Machine machine(head, sds, normal);
    const auto text = machine.read({}).text;
    // Every bare length with its unit written out means the same in a file in inches.
    std::string inches;
    for (std::size_t at = 0; at < text.size();) {
        const auto end = text.find('\n', at);
        std::string line = text.substr(at, end - at);
        at = end + 1;
        for (const char* key : {"x = ", "y = ", "z = ", "sd = 0", "ball = ", "diameter = ", "head_height = "})
            if (line.starts_with(key)) {
                const auto value = line.find("= ") + 2;
                line = line.substr(0, value) + "\"" + line.substr(value) + " mm\"";
            }
        if (line == "units = \"mm\"") line = "units = \"in\"";
        inches += line + "\n";
    }
    const auto mm = surveyed(text), in = surveyed(inches);
    for (const auto& v : mm.valves) EXPECT_NEAR(*v.x.value, *valve(in, v.id).x.value, 1e-6);
    const auto a = job_of(mm), b = job_of(in);
    ASSERT_EQ(a.head.valves.size(), b.head.valves.size());
    EXPECT_EQ(b.units, LengthUnit::inch);
    for (std::size_t i = 0; i < a.head.valves.size(); ++i)
        EXPECT_LT((a.head.valves[i].seat - b.head.valves[i].seat).norm(), 1e-3);
}

}  // namespace
}  // namespace seatwright::survey
