// Several files of one cutter: in what order, with what names, on what each takes its Z0. Invented data.
#include <gtest/gtest.h>

#include "cut/programmed.hpp"
#include "seatwright/cut/readback_route.hpp"

namespace seatwright::cut {
namespace {

// One pilot of each size, so that each guide is planted in a turn of its own.
job::Job planted_in_turns() {
    job::Job job = fixtures::programmed_job();
    job.cut.pilot = job::PilotUse::planted;
    for (job::Pilot& pilot : job.pilots) pilot.style = job::PilotStyle::tapered, pilot.count = 1;
    return job;
}

std::vector<const Program*> of_cutter(const Cut& cut, int number) {
    std::vector<const Program*> out;
    for (const Program& program : cut.programs)
        if (program.route.zeros.front().cutter == number) out.push_back(&program);
    return out;
}

TEST(FileTurns, TheTouchedSeatIsInTheLastPlanting) {
    for (const char* touched : {"1I", "2I", "3I"}) {
        job::Job job = planted_in_turns();
        job.depth.zero_on = touched;
        const auto p = fixtures::programmed(job);
        const int number = [&] {
            for (const Program& program : p.cut.programs)
                for (const Stop& stop : program.route.stops)
                    if (stop.id == touched) return stop.tool.number;
            return 0;
        }();
        const auto files = of_cutter(p.cut, number);
        ASSERT_GE(files.size(), 3u) << touched;
        for (std::size_t i = 0; i < files.size(); ++i)
            for (const Stop& stop : files[i]->route.stops)
                EXPECT_EQ(stop.id == touched, i + 1 == files.size()) << touched << " " << files[i]->file;
    }
}

TEST(FileTurns, NamesRunInTheOrderOfTheFiles) {
    const auto first = fixtures::planned(planted_in_turns());
    ASSERT_FALSE(first.cut.programs.empty());
    EXPECT_EQ(first.cut.programs[0].file, "program-1-A-1-first.ngc");
    const auto second = fixtures::programmed(planted_in_turns());
    const auto rest = of_cutter(second.cut, 1);
    ASSERT_GE(rest.size(), 3u);
    EXPECT_EQ(rest[0]->file, "program-1-A-1.ngc");
    EXPECT_EQ(rest[1]->file, "program-1-A-1b.ngc");
    EXPECT_EQ(rest[2]->file, "program-1-A-1c.ngc");
}

TEST(FileTurns, ASeatCutIsNoLongerTouched) {
    const auto p = fixtures::programmed(planted_in_turns());
    const auto files = of_cutter(p.cut, 1);
    ASSERT_GE(files.size(), 2u);
    std::vector<const Route*> routes;
    for (const Program* program : files) routes.push_back(&program->route);
    EXPECT_EQ(fault_of_files(p.job, routes), "");
    std::swap(routes.front(), routes.back());
    EXPECT_NE(fault_of_files(p.job, routes).find("which a file before has cut"), std::string::npos);
}

}  // namespace
}  // namespace seatwright::cut
