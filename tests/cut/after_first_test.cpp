// The second file after a first seat that went deeper than the plan can bear. Invented head of
// programmed.hpp: every seat planned 0.14 deep, the first one cut 0.02 short and read 0.22, e = 0.10; stem
// heights may differ by 0.05.
#include <gtest/gtest.h>

#include <algorithm>

#include "cut/programmed.hpp"

namespace seatwright::cut {
namespace {

struct Row {
    fixtures::Programmed base;
    job::Job job;
    std::string first;  // of the intakes

    Row() {
        job::Job asked = fixtures::programmed_job();
        asked.depth.stem_spread = 0.05;
        asked.cut.first_short = 0.02;
        base = fixtures::planned(std::move(asked));
        job = base.job;
        for (const Program& program : base.cut.programs)
            if (program.route.stops.front().id.back() == 'I') first = program.route.stops.front().id;
    }
    void read(job::AfterFirst plan) {
        job::FirstSeat reading;
        reading.valve = first;
        reading.depth = 0.22;
        reading.plan = plan;
        job.readings.firsts = {reading};
    }
    Cut cut() const { return plan(job, base.hold, base.find, shape::design(job, base.hold, base.find, "1")); }
    // The intakes' file; null if there is none.
    static const Program* intakes(const Cut& cut) {
        for (const Program& program : cut.programs)
            if (program.route.stops.front().id.back() == 'I') return &program;
        return nullptr;
    }
};

double z_of(const Route& route, const std::string& id) {
    for (const Stop& stop : route.stops)
        if (stop.id == id) return stop.z;
    ADD_FAILURE() << id << " is not in the file";
    return 0;
}

TEST(AfterFirst, TheFileWaitsUntilSomebodyChooses) {
    Row row;
    ASSERT_FALSE(row.first.empty());
    const Program* before = Row::intakes(row.base.cut);
    ASSERT_NE(before, nullptr);
    row.read(job::AfterFirst::open);
    const Cut open = row.cut();
    EXPECT_EQ(Row::intakes(open), nullptr);
    EXPECT_FALSE(open.programs.empty());  // the exhausts' file does not wait
    EXPECT_EQ(std::count_if(open.held_back.begin(), open.held_back.end(),
                            [](const HeldBack& held) { return held.code == HeldCode::missing; }),
              2);
}

// Both files move by the same trim; the plan made anew takes the others 0.03 deeper besides. The seat that is
// cut is in neither.
TEST(AfterFirst, BothWaysCarryTheSameTrim) {
    Row row;
    row.read(job::AfterFirst::shifted);
    const Cut shifted = row.cut();
    row.read(job::AfterFirst::anew);
    const Cut anew = row.cut();
    const Program *as_planned = Row::intakes(shifted), *made_anew = Row::intakes(anew);
    ASSERT_NE(as_planned, nullptr);
    ASSERT_NE(made_anew, nullptr);
    for (const Program* program : {as_planned, made_anew}) {
        EXPECT_TRUE(program->checked);
        EXPECT_EQ(program->route.part, FilePart::rest);
        EXPECT_NEAR(program->route.zeros.front().trim, 0.10, 1e-9);
        EXPECT_EQ(program->route.stops.size(), 2U);
        for (const Stop& stop : program->route.stops) {
            EXPECT_NE(stop.id, row.first);
            const double deeper = program == made_anew ? 0.03 : 0;
            EXPECT_NEAR(stop.depth, 0.14 + deeper, 1e-9) << stop.id;
            EXPECT_NEAR(z_of(program->route, stop.id), z_of(as_planned->route, stop.id) - deeper, 1e-9);
        }
    }
}

}  // namespace
}  // namespace seatwright::cut
