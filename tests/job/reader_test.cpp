// Reading good jobs: every key arrives where it belongs, in memory units.
#include "seatwright/job/reader.hpp"

#include <gtest/gtest.h>

#include <fmt/format.h>
#include <regex>

#include "job/full_job.hpp"
#include "job/same_job.hpp"

namespace seatwright::job {
namespace {

Job good(const std::string& text, const Fetch& fetch = {}) {
    auto job = read_job(text, "a.toml", fetch);
    if (!job) {
        for (const auto& f : job.error()) ADD_FAILURE() << to_line(f);
        return {};
    }
    return *job;
}

TEST(JobReader, SmallestJob) {
    const auto job = good("units = \"mm\"\n[head]\n[[head.valve]]\nid=\"1I\"\nkind=\"intake\"\nx=1\n");
    ASSERT_EQ(job.head.valves.size(), 1u);
    EXPECT_EQ(job.head.valves[0].cylinder, 1);
}

TEST(JobReader, EveryKeyOfTheContractArrives) {
    const Job job = good(test::full_job);
    EXPECT_EQ(job.title, "invented full job");
    ASSERT_EQ(job.head.valves.size(), 5u);
    // Cylinder 2 is mirrored about x = 112: its intake lies at 112 + 22 with cant -2.
    EXPECT_EQ(job.head.valves[0].id, "1I");
    EXPECT_EQ(job.head.valves[1].id, "1E");
    EXPECT_EQ(job.head.valves[2].id, "2E");
    EXPECT_EQ(job.head.valves[3].id, "2I");
    EXPECT_EQ(job.head.valves[4].id, "X1");
    EXPECT_DOUBLE_EQ(job.head.valves[3].seat.x(), 134);
    EXPECT_DOUBLE_EQ(job.head.valves[3].cant, rad(-2));
    EXPECT_DOUBLE_EQ(job.head.valves[3].incline, rad(19.5));
    EXPECT_EQ(job.head.posts, (std::array<std::size_t, 2>{0, 2}));
    EXPECT_EQ(job.machine.y_sign, -1);
    EXPECT_DOUBLE_EQ(*job.machine.torque, 40'000);
    EXPECT_DOUBLE_EQ(*job.machine.rapid, 100);
    EXPECT_DOUBLE_EQ(*job.machine.accel, 500);
    EXPECT_DOUBLE_EQ(*job.machine.float_stiffness, 2000);
    EXPECT_DOUBLE_EQ(*job.machine.axial_stiffness, 20'000);
    EXPECT_DOUBLE_EQ(job.pilots[0].taper, 0.0005);
    EXPECT_DOUBLE_EQ(*job.materials[0].modulus, 110'000);
    EXPECT_NEAR(*job.materials[0].expansion, 11.4e-6, 1e-18);
    EXPECT_DOUBLE_EQ(job.materials[0].speed->high, 100);
    EXPECT_DOUBLE_EQ(*job.depth.swept, 580'000);
    EXPECT_EQ(job.readings.touches[1].head, "2");
    EXPECT_EQ(job.readings.touches[1].valve, "?");
    EXPECT_DOUBLE_EQ(*job.readings.seats[0].chamber, 64'100);
    EXPECT_DOUBLE_EQ(*job.readings.proofs[0].vacuum, 25 * kpa_per_inhg);
    EXPECT_DOUBLE_EQ(*job.seat[Kind::intake]->vacuum_min, 21 * kpa_per_inhg);
    EXPECT_DOUBLE_EQ(*job.seat[Kind::intake]->vacuum_loss_max, 4 * kpa_per_inhg);
    EXPECT_FALSE(job.seat[Kind::exhaust]->vacuum_loss_max);
    EXPECT_DOUBLE_EQ(job.readings.proofs[0].angles[2], rad(90));
    EXPECT_GT(job.readings.proofs[0].line, 100);
    EXPECT_TRUE(job.assumptions.empty());
}

// Keys of the full job whose bare numbers are lengths.
const std::regex& length_keys() {
    static const std::regex keys(
        R"(\b(x|y|z|diameter|bolt_hole_diameter|bore_spacing|head_diameter|stem_diameter|margin|width|inset|width_tol|runout_max|stem_height|stem_height_max|recession_max|tip_grind_max|outside|inside|depth|contact_diameter|bore|bore_max|bell_max|length|mouth|to_seat|step|stem_spread|cleanup_margin|bridge_min|lash_shim_step|touch_sd|casting_sd|positioning_sd|sd|travel_x|travel_y|travel_z|resolution|post_diameter|free_length|tip|top|middle|bottom|recession|cleanup|runout|gauge_u|bolt_holes|spring_shims|post_span|gauge_diameter|section|trace) = )");
    return keys;
}

// The full job with every bare length written otherwise: `write` gets millimetres.
template <class Write>
std::string with_lengths(const Write& write) {
    const std::string& text = test::full_job;
    static const std::regex bare(R"(-?\d+(\.\d+)?)");
    std::string out;
    auto at = text.begin();
    for (std::sregex_iterator key(text.begin(), text.end(), length_keys()), end; key != end; ++key) {
        auto from = text.begin() + key->position() + key->length();
        out.append(at, from);
        // A number, or a list up to its last bracket on the line.
        auto stop = from;
        int depth = 0;
        while (stop != text.end() && *stop != '\n' && *stop != '"' && *stop != '}' &&
               (depth > 0 || *stop != ',') && (*stop != ']' || depth > 0) && *stop != '{') {
            if (*stop == '[') ++depth;
            if (*stop == ']') --depth;
            ++stop;
        }
        std::string value(from, stop);
        std::string rewritten;
        auto v = value.cbegin();
        for (std::sregex_iterator n(value.begin(), value.end(), bare), last; n != last; ++n) {
            rewritten.append(v, value.cbegin() + n->position());
            rewritten += write(std::stod(n->str()));
            v = value.cbegin() + n->position() + n->length();
        }
        rewritten.append(v, value.cend());
        out += rewritten;
        at = stop;
    }
    out.append(at, text.end());
    return out;
}

TEST(JobReader, InchAndMmAndMixedUnitsAreOneJob) {
    const Job mm = good(test::full_job);
    std::string inch = with_lengths([](double v) { return fmt::format("{:.17g}", v / 25.4); });
    inch.replace(inch.find("units = \"mm\""), 12, "units = \"in\"");
    EXPECT_NE(inch.find("bore_spacing = 4.40"), std::string::npos);
    int turn = 0;
    const std::string mixed = with_lengths([&](double v) {
        switch (turn++ % 5) {
            case 0:
                return fmt::format("\"{:.17g} mm\"", v);
            case 1:
                return fmt::format("\"{:.17g} in\"", v / 25.4);
            case 2:
                return fmt::format("\"{:.17g} um\"", v * 1000);
            case 3:
                return fmt::format("\"{:.17g} thou\"", v / 0.0254);
            default:
                return fmt::format("\"{:.17g}cm\"", v / 10);
        }
    });
    const std::string mixed_in_inch = [&] {
        std::string text = mixed;
        return text.replace(text.find("units = \"mm\""), 12, "units = \"in\"");
    }();
    const test::SameJob same(1e-12);
    same.jobs(mm, good(inch));
    same.jobs(mm, good(mixed));
    same.jobs(mm, good(mixed_in_inch));
}

std::string mirrored(const std::string& how) {
    std::string text = test::full_job;
    return text.replace(text.find("mirror = \"none\""), 15, "mirror = \"" + how + "\"");
}

TEST(JobReader, MirrorXTurnsXAndCantOfEverything) {
    const Job plain = good(test::full_job), other = good(mirrored("x"));
    ASSERT_EQ(plain.head.valves.size(), other.head.valves.size());
    for (const auto& v : plain.head.valves) {
        const auto& w = other.head.valves[*other.head.index_of(v.id)];
        EXPECT_EQ(w.seat, Vec3(-v.seat.x(), v.seat.y(), v.seat.z())) << v.id;
        EXPECT_EQ(w.cant, -v.cant) << v.id;
        EXPECT_EQ(w.incline, v.incline) << v.id;
        EXPECT_FALSE(std::signbit(w.cant) && w.cant == 0) << "negative zero";
    }
    for (std::size_t i = 0; i < plain.head.bolt_holes.size(); ++i)
        EXPECT_EQ(other.head.bolt_holes[i],
                  Vec2(-plain.head.bolt_holes[i].x(), plain.head.bolt_holes[i].y()));
    EXPECT_EQ(other.head.obstacles[0].centre.x(), -4);
    // Head order follows the mirrored casting.
    EXPECT_EQ(other.head.valves.front().id, "X1");
    EXPECT_EQ(other.head.valves.back().id, "1I");
}

TEST(JobReader, MirrorYTurnsYAndIncline) {
    const Job plain = good(test::full_job), other = good(mirrored("y"));
    for (const auto& v : plain.head.valves) {
        const auto& w = other.head.valves[*other.head.index_of(v.id)];
        EXPECT_EQ(w.seat, Vec3(v.seat.x(), -v.seat.y() + 0.0, v.seat.z())) << v.id;
        EXPECT_EQ(w.incline, -v.incline + 0.0) << v.id;
        EXPECT_EQ(w.cant, v.cant) << v.id;
    }
    EXPECT_EQ(other.head.obstacles[0].centre.y(), -30);
}

// The drawing of the other hand, mirrored, is the first hand again.
TEST(JobReader, MirrorTwiceIsTheIdentity) {
    const Job plain = good(test::full_job);
    for (const std::string how : {"x", "y"}) {
        const Job once = good(mirrored(how));
        std::string text =
            "units = \"mm\"\n[head]\nname = \"h\"\nmass = 21\ndatum = \"1I\"\nposts = [0, 2]\nmirror = \"" +
            how + "\"\n";
        text += "bolt_hole_diameter = 13.5\nbolt_holes = [ ";
        for (const auto& h : once.head.bolt_holes) text += fmt::format("[{:.17g}, {:.17g}], ", h.x(), h.y());
        const auto& o = once.head.obstacles[0];
        text += fmt::format(
            "]\nobstacle = [ {{ name = \"plug\", x = {:.17g}, y = {:.17g}, z = {:.17g}, diameter = {:.17g} "
            "}} ]\n",
            o.centre.x(), o.centre.y(), o.centre.z(), o.diameter);
        for (const auto& v : once.head.valves)
            text += fmt::format(
                "[[head.valve]]\nid = \"{}\"\ncylinder = {}\nkind = \"{}\"\nx = {:.17g}\ny = {:.17g}\nz = "
                "{:.17g}\n"
                "incline = \"{:.17g} rad\"\ncant = \"{:.17g} rad\"\n",
                v.id, v.cylinder, v.kind == Kind::intake ? "intake" : "exhaust", v.seat.x(), v.seat.y(),
                v.seat.z(), v.incline, v.cant);
        Head twice = good(text).head;
        twice.bore_spacing = plain.head.bore_spacing;
        test::SameJob(0).heads(plain.head, twice);
    }
}

Head head_of(const std::string& body) {
    return good("units = \"mm\"\n" + body).head;
}

TEST(JobReader, PatternIdsAndHeadOrder) {
    const Head head = head_of(
        "[head.pattern]\ncylinders = 2\nbore_spacing = 90\n"
        "valve = [ { kind = \"intake\", x = 17, y = 16 }, { kind = \"exhaust\", x = 0, y = -16 }, { kind = "
        "\"intake\", x = -17, y = 16 } ]\n");
    std::string order;
    for (const auto& v : head.valves) order += v.id + " ";
    EXPECT_EQ(order, "1Ib 1E 1Ia 2Ib 2E 2Ia ");
    EXPECT_EQ(head.valves[3].cylinder, 2);
    EXPECT_EQ(head.cylinders, 2);
    EXPECT_EQ(head.bore_spacing, 90);
}

TEST(JobReader, TiesInXGoByY) {
    const Head head = head_of(
        "[head]\n[[head.valve]]\nid = \"a\"\nkind = \"intake\"\nx = 10.0000004\ny = -5\n[[head.valve]]\nid = "
        "\"b\"\nkind = \"exhaust\"\n"
        "x = 10\ny = 5\n[[head.valve]]\nid = \"c\"\nkind = \"exhaust\"\nx = 9\ny = 50\n[[head.valve]]\nid = "
        "\"d\"\nkind = \"exhaust\"\nx = 10.00001\ny = -50\n");
    std::string order;
    for (const auto& v : head.valves) order += v.id;
    EXPECT_EQ(order, "cabd");
}

TEST(JobReader, ExplicitValveOverridesThePatternsById) {
    const Head head = head_of(
        "[head.pattern]\ncylinders = 2\nbore_spacing = 90\nvalve = [ { kind = \"intake\", x = 1, y = 2, z = "
        "-3, incline = 4, cant = 5 } ]\n"
        "[[head.valve]]\nid = \"2I\"\nx = 95\nincline = 14\n");
    const auto& v = head.valves[*head.index_of("2I")];
    EXPECT_EQ(v.seat, Vec3(95, 2, -3));
    EXPECT_DOUBLE_EQ(v.incline, rad(14));
    EXPECT_DOUBLE_EQ(v.cant, rad(5));
    EXPECT_EQ(head.valves.size(), 2u);
    EXPECT_EQ(head_of("[head]\n[[head.valve]]\nid = \"12E\"\nkind = \"exhaust\"\nx = 0\n").valves[0].cylinder,
              12);
}

TEST(JobReader, SectionInAnyOrderIsSortedFromInsideOut) {
    const std::string text = test::full_job;
    const std::string section = "[[19, -1], [20, 0], [21, 1]]";
    const std::size_t at = text.find(section);
    const std::vector<Vec2> sorted{{19, -1}, {20, 0}, {21, 1}};
    for (const char* other : {"[[21, 1], [20, 0], [19, -1]]", "[[20, 0], [21, 1], [19, -1]]"}) {
        std::string turned = text;
        turned.replace(at, section.size(), other);
        EXPECT_EQ(good(turned).readings.seats[0].section, sorted) << other;
    }
}

TEST(JobReader, ShopSuppliesWhatTheJobLacks) {
    const std::string shop =
        "units = \"in\"\n[[machine]]\nname = \"a\"\ntravel_x = 10\n[[machine]]\nname = \"b\"\ntravel_x = "
        "20\n[[fixture]]\nname = \"f\"\n"
        "tilt = [-10, 20]\n[[pilot]]\nname = \"p\"\ndiameter = 0.3\n[[pilot]]\nname = \"q\"\ndiameter = "
        "0.4\n[depth]\nstep = 0.001\n"
        "[seat.intake]\nangle = 30\n[[dialect]]\nname = \"first\"\ndecimals_mm = 3\n[[dialect]]\nname = "
        "\"second\"\n[rates]\ncurrency = \"c\"\nhead = 5\n";
    const auto fetch = [&](const std::string& path) -> tl::expected<std::string, std::string> {
        EXPECT_EQ(path, "s.toml");
        return shop;
    };
    const std::string job_text =
        "units = \"mm\"\nshop = \"s.toml\"\nmachine = \"b\"\n[head]\n[[head.valve]]\nid = \"1I\"\nkind = "
        "\"intake\"\nx = 0\n"
        "[[pilot]]\nname = \"p\"\ndiameter = 8\n";
    const Job job = good(job_text, fetch);
    EXPECT_DOUBLE_EQ(*job.machine.travel_x, 508);
    EXPECT_EQ(job.fixture.name, "f");
    EXPECT_DOUBLE_EQ(job.fixture.plumb_limit, rad(0.05));
    ASSERT_EQ(job.pilots.size(), 2u);
    EXPECT_DOUBLE_EQ(job.pilots[0].diameter, 8);
    EXPECT_DOUBLE_EQ(job.pilots[1].diameter, 0.4 * 25.4);
    EXPECT_DOUBLE_EQ(job.depth.step, 0.0254);
    EXPECT_DOUBLE_EQ(job.seat.intake->angle, rad(30));
    EXPECT_EQ(job.dialect.name, "first");
    EXPECT_EQ(job.dialect.decimals_mm, 3);
    EXPECT_EQ(job.rates->head, 5);
    EXPECT_EQ(good("dialect = \"second\"\n" + job_text, fetch).dialect.name, "second");
    // A shop file without units is read in the job's.
    const auto bare = [](const std::string&) -> tl::expected<std::string, std::string> {
        return std::string("[[machine]]\nname = \"b\"\ntravel_x = 20\n");
    };
    std::string in_job = job_text;
    in_job.replace(in_job.find("\"mm\""), 4, "\"in\"");
    EXPECT_DOUBLE_EQ(*good(in_job, bare).machine.travel_x, 508);
    EXPECT_DOUBLE_EQ(*good(job_text, bare).machine.travel_x, 20);
}

// A shop file is walked once for many jobs: another text, another unit or a fault is not taken for the first.
TEST(JobReader, TheShopIsReadAnewWhenItChanges) {
    std::string shop = "[[machine]]\nname = \"b\"\ntravel_x = 20\n";
    const auto fetch = [&](const std::string&) -> tl::expected<std::string, std::string> { return shop; };
    const auto job = [](const std::string& units) {
        return "units = \"" + units + "\"\nshop = \"again.toml\"\nmachine = \"b\"\n[head]\n[[head.valve]]\n" +
               "id = \"1I\"\nkind = \"intake\"\nx = 0\n";
    };
    for (int time = 0; time < 2; ++time) {
        EXPECT_DOUBLE_EQ(*good(job("mm"), fetch).machine.travel_x, 20);
        EXPECT_DOUBLE_EQ(*good(job("in"), fetch).machine.travel_x, 508);
    }
    shop = "[[machine]]\nname = \"b\"\ntravel_x = 30\n";
    EXPECT_DOUBLE_EQ(*good(job("mm"), fetch).machine.travel_x, 30);
    shop += "no_such_key = 1\n";
    for (int time = 0; time < 2; ++time) {
        const auto read = read_job(job("mm"), "job.toml", fetch);
        ASSERT_FALSE(read);
        ASSERT_EQ(read.error().size(), 1u);
        EXPECT_EQ(read.error()[0].file, "again.toml");
        EXPECT_EQ(read.error()[0].line, 4);
    }
    EXPECT_DOUBLE_EQ(*good(job("mm"),
                           [](const std::string&) -> tl::expected<std::string, std::string> {
                               return std::string("[[machine]]\nname = \"b\"\ntravel_x = 40\n");
                           })
                          .machine.travel_x,
                     40);
}

TEST(JobReader, NamelessPilotsAndCuttersAreNamedByPlace) {
    const Job job = good(
        "units = \"mm\"\n[head]\n[[head.valve]]\nid = 1\nkind = \"intake\"\nx = 0\n[[pilot]]\ndiameter = "
        "8\n[[pilot]]\n"
        "diameter = 9\n[[cutter]]\nfacets = [ { angle = 45, width = 1 } ]\n");
    ASSERT_EQ(job.pilots.size(), 2u);
    EXPECT_EQ(job.pilots[1].name, "pilot 2");
    EXPECT_EQ(job.cutters[0].name, "cutter 1");
    EXPECT_TRUE(job.cutters[0].gauge_diameter.contains(40));
}

TEST(JobReader, DefaultsTakenAreSaid) {
    const Job job = good("units = \"in\"\n[head]\n[[head.valve]]\nid=\"1I\"\nkind=\"intake\"\nx=1\n");
    EXPECT_DOUBLE_EQ(job.find.touch_sd, 0.02);
    EXPECT_EQ(job.assumptions.size(), 2u);
    EXPECT_EQ(job.heads(), std::vector<std::string>{"1"});
}

}  // namespace
}  // namespace seatwright::job
