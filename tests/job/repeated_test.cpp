// Two tables of readings of one guide or seat that give one figure otherwise.
#include "seatwright/job/repeated.hpp"

#include <gtest/gtest.h>

#include <string>

#include "../job_fixtures.hpp"
#include "seatwright/job/reader.hpp"
#include "spoken.hpp"

namespace seatwright::job {
namespace {

Job with(const std::string& readings) {
    const std::string head =
        "units = \"mm\"\n[head]\nvalve = [ { id = \"1I\", kind = \"intake\", x = 0 }, "
        "{ id = \"1E\", kind = \"exhaust\", x = 40 } ]\n";
    auto read = read_job(head + readings, "job.toml", {});
    EXPECT_TRUE(read) << (read ? "" : to_line(read.error().front()));
    return read ? std::move(*read) : Job{};
}

std::string seat(const std::string& figures, const char* valve = "1I") {
    return std::string("[[reading.seat]]\nvalve = \"") + valve + "\"\n" + figures + "\n";
}
std::string guide(const std::string& figures) {
    return "[[reading.guide]]\nvalve = \"1I\"\n" + figures + "\n";
}

TEST(Repeated, FiguresOfTheirOwnAndTheSameFigureTwiceAreNotAskedAbout) {
    EXPECT_TRUE(
        repeated_seats(with(seat("recession = 0.18\ncleanup = 0.11") + seat("chamber = 58")), "1").empty());
    EXPECT_TRUE(repeated_seats(with(seat("recession = 12.7") + seat("recession = \"0.5 in\"")), "1").empty());
    EXPECT_TRUE(repeated_seats(with(seat("cleanup = 0.1") + seat("cleanup = 0.2", "1E")), "1").empty());
    EXPECT_TRUE(
        repeated_seats(with(seat("cleanup = 0.1") + seat("head = \"2\"\ncleanup = 0.2")), "1").empty());
    const std::string bores = "top = 8.02\nmiddle = 8.01\nbottom = 8.02";
    EXPECT_TRUE(repeated_guides(with(guide(bores) + guide(bores)), "1").empty());
}

TEST(Repeated, OneFigureTwiceOtherwiseIsAskedAboutWithBoth) {
    const auto doubts = repeated_seats(
        with(seat("recession = 0.18\ncleanup = 0.11") + seat("recession = 0.48\ncleanup = 0.21")), "1");
    ASSERT_EQ(doubts.size(), 1u) << "one question a seat";
    EXPECT_EQ(doubts[0].key, "reading.seat.1.1I.recession");
    EXPECT_EQ(doubts[0].valve, "1I");
    EXPECT_EQ(doubts[0].head, "1");
    EXPECT_EQ(
        spoken(doubts[0].text),
        "reading.seat.1.1I.recession stands twice, as 0.18 mm and then as 0.48 mm; the last one would count. "
        "Remove the wrong one.");
    EXPECT_EQ(spoken(sure_words(doubts[0])), "sure = true");
}

// Each quantity a seat can be read in, alone.
TEST(Repeated, EveryQuantityOfASeat) {
    for (const char* name :
         {"recession", "below_deck", "stem_height", "rest_z", "face_outside", "cleanup", "chamber"}) {
        const auto figure = [&](const char* value) { return seat(std::string(name) + " = " + value); };
        const auto doubts = repeated_seats(with(figure("30.1") + figure("30.2")), "1");
        ASSERT_EQ(doubts.size(), 1u) << name;
        EXPECT_EQ(doubts[0].key, std::string("reading.seat.1.1I.") + name);
    }
    const auto face = [](const char* width) {
        return seat(std::string("face_outside = 39\nface_width = ") + width);
    };
    EXPECT_EQ(repeated_seats(with(face("1.9") + face("2.0")), "1").size(), 1u);
}

TEST(Repeated, SureBesideTheLastSettlesItAndBesideAnotherDoesNot) {
    const std::string first = "recession = 0.18", last = "recession = 0.48", sure = "\nsure = true";
    EXPECT_TRUE(repeated_seats(with(seat(first) + seat(last + sure)), "1").empty());
    EXPECT_EQ(repeated_seats(with(seat(first + sure) + seat(last)), "1").size(), 1u);
    // The last that gives the figure: a table after it that gives others settles nothing.
    EXPECT_EQ(repeated_seats(with(seat(first) + seat(last) + seat("cleanup = 0.1" + sure)), "1").size(), 1u);
}

TEST(Repeated, ABoreOfAGuideIsAskedAboutByHold) {
    const Job job = with(guide("top = 8.02\nmiddle = 8.01\nbottom = 8.02") +
                         guide("top = 8.02\nmiddle = 8.02\nbottom = 8.02"));
    const auto doubts = doubts_of(job, Stage::hold, "1");
    ASSERT_EQ(doubts.size(), 1u);
    EXPECT_EQ(doubts[0].key, "reading.guide.1.1I.middle");
    EXPECT_EQ(doubts[0].valve, "1I");
}

// An export of the workbench's entries has lines, they themselves have none: both are asked about alike.
TEST(Repeated, ReadingsOfNoFileAreAskedAboutAlike) {
    Job job = with(seat("recession = 0.18") + seat("recession = 0.48"));
    const auto of_file = repeated_seats(job, "1");
    std::vector<SeatBefore> entered(job.readings.seats.begin(), job.readings.seats.end());
    job.readings.seats.clear();
    for (SeatBefore& reading : entered) {
        reading.line = 0;
        job.readings.seats.push_back(reading);
    }
    const auto of_entries = repeated_seats(job, "1");
    ASSERT_EQ(of_entries.size(), 1u);
    EXPECT_EQ(spoken(of_entries[0].text), spoken(of_file[0].text));
}

}  // namespace
}  // namespace seatwright::job
