// Which pilots the read-back lets into a guide, against the worked figures (working.md, B8). Invented data.
#include <gtest/gtest.h>

#include <functional>

#include "cut/held_heads.hpp"

namespace seatwright::cut {
namespace {

// Guide 58 long, read 8.005; taper 0.0005 from 8.00 at the gauge line: rests 10 below the top (B8).
struct Guided : Read {
    Route route;
    Stop stop;
    Guided() {
        job.guide.intake->length = 58;
        job.guide.intake->to_seat = 42;
        job.guide.intake->bore = 8.0;
        job.pilots[0].diameter = 8.0;
        job.pilots[0].gauge_at = 84;
        job.pilots[0].slide = 25;
        job.cutters[0].drop = 20;
        read_bore(8.005, 8.005, 8.005);
        route.head = "1";
        stop.valve = 0;
        stop.pilot = 0;
    }
    void read_bore(double top, double middle, double bottom) {
        job.readings.guides.push_back({"1", "1I", top, middle, bottom});
    }
    std::string fault() const { return fault_of_pilot(expected().seats[0], job, route, stop); }
    std::string without(const std::function<void(Guided&)>& lack) const {
        Guided other = *this;
        lack(other);
        return other.fault();
    }
};

bool says(const std::string& fault, const char* words) {
    return fault.find(words) != std::string::npos;
}

TEST(ExpectPilots, ATaperLocksInItsGuideAndSlidesBackSoFar) {
    const Guided g;  // c 64 − 41.56 − 10 = 12.44
    EXPECT_EQ(g.fault(), "");
    EXPECT_EQ(g.without([](Guided& x) { x.job.pilots[0].slide = 12.5; }), "");
    EXPECT_TRUE(says(g.without([](Guided& x) { x.job.pilots[0].slide = 12.4; }), "driven solid"));
    EXPECT_EQ(g.without([](Guided& x) { x.job.pilots[0].gauge_at = 71.6; }), "");
    EXPECT_TRUE(says(g.without([](Guided& x) { x.job.pilots[0].gauge_at = 71.5; }), "before it locks"));
    // The ring that holds it first: middle 29 + 4, bottom 58 − 20.
    EXPECT_EQ(g.without([](Guided& x) {
        x.read_bore(8.025, 8.002, 8.002);
        x.job.pilots[0].gauge_at = 97;
    }),
              "");
    EXPECT_TRUE(says(g.without([](Guided& x) { x.read_bore(8.025, 8.025, 8.025); }), "before it locks"));
    EXPECT_TRUE(says(g.without([](Guided& x) { x.read_bore(8.030, 8.030, 8.030); }), "does not lock"));
    EXPECT_TRUE(says(g.without([](Guided& x) { x.read_bore(7.99, 8.01, 8.01); }), "does not lock"));
    EXPECT_TRUE(says(g.without([](Guided& x) { x.read_bore(8.01, 7.98, 8.01); }), "does not lock"));
    // Of another head, or an older one.
    EXPECT_EQ(g.without([](Guided& x) { x.job.readings.guides.push_back({"2", "1I", 9, 9, 9}); }), "");
    EXPECT_EQ(g.without([](Guided& x) { x.job.readings.guides.push_back({"1", "2I", 9, 9, 9}); }), "");
    EXPECT_TRUE(says(g.without([](Guided& x) { x.job.readings.guides.clear(); }), "was not read"));
    for (const auto& lack :
         {std::function<void(Guided&)>([](Guided& x) { x.job.pilots[0].taper = 0; }),
          std::function<void(Guided&)>([](Guided& x) { x.job.guide.intake.reset(); }),
          std::function<void(Guided&)>([](Guided& x) { x.job.guide.intake->length.reset(); }),
          std::function<void(Guided&)>([](Guided& x) { x.job.guide.intake->to_seat.reset(); })})
        EXPECT_TRUE(says(g.without(lack), "cannot be worked out"));
    for (const auto& lack :
         {std::function<void(Guided&)>([](Guided& x) { x.job.pilots[0].gauge_at.reset(); }),
          std::function<void(Guided&)>([](Guided& x) { x.job.pilots[0].slide.reset(); }),
          std::function<void(Guided&)>([](Guided& x) { x.job.cutters[0].drop.reset(); })}) {
        EXPECT_TRUE(says(g.without(lack), "how far it slides"));
        // One planted by hand does not slide.
        EXPECT_EQ(g.without([&](Guided& x) {
            lack(x);
            x.route.pilot = job::PilotUse::planted;
        }),
                  "");
        EXPECT_EQ(g.without([&](Guided& x) {
            lack(x);
            x.what.seats[0].planned.reset();
        }),
                  "");
    }
}

TEST(ExpectPilots, OneThatSlidesGoesInAndLeads) {
    Guided g;
    g.job.pilots[0].style = job::PilotStyle::parallel;
    g.job.pilots[0].taper = 0;
    EXPECT_EQ(g.fault(), "");
    EXPECT_TRUE(says(g.without([](Guided& x) { x.job.pilots[0].diameter = 8.01; }), "narrower"));
    EXPECT_TRUE(says(g.without([](Guided& x) { x.read_bore(8.1, 8.1, 7.99); }), "narrower"));
    EXPECT_TRUE(says(g.without([](Guided& x) { x.job.pilots[0].diameter = 7.7; }), "too wide"));
    EXPECT_EQ(g.without([](Guided& x) { x.job.guide.intake->bore.reset(); }), "");  // read
    g.job.readings.guides.clear();                                                  // by the drawing
    EXPECT_EQ(g.fault(), "");
    EXPECT_TRUE(says(g.without([](Guided& x) { x.job.guide.intake->bore = 7.9; }), "narrower"));
    EXPECT_TRUE(says(g.without([](Guided& x) { x.job.guide.intake->bore.reset(); }), "no bore"));
    EXPECT_TRUE(says(g.without([](Guided& x) { x.job.guide.intake.reset(); }), "no bore"));
}

}  // namespace
}  // namespace seatwright::cut
