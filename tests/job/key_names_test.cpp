// What a page says of keys: by their labels, and no line to write into a file.
#include "seatwright/job/key_names.hpp"

#include <gtest/gtest.h>

#include <regex>
#include <string>

#include "other_language.hpp"
#include "seatwright/job/keys.hpp"

namespace seatwright::job {
namespace {

std::string said(const char* key) {
    return in_words(name_of_key(key), on_page(LengthUnit::mm));
}

TEST(KeyNames, AKeyIsCalledByItsLabel) {
    EXPECT_EQ(said("guide.intake.below"), "room below the guide (intake)");
    EXPECT_EQ(said("seat.exhaust.top[1].angle"), said("seat.exhaust.top[0].angle"));
    EXPECT_EQ(said("depth.feeler"), "feeler");
    EXPECT_EQ(said("head.material"), "head material");
    EXPECT_EQ(said("head.valve.1I.z"), "Z of 1I");
    EXPECT_EQ(said("reading.first.6.3I.depth"), "depth of 3I (reading of a first seat, head 6)");
    EXPECT_EQ(said("reading.guide.6.3I.top[1]"), said("reading.guide.6.3I.top"));
    EXPECT_EQ(said("machine[2].ball"), said("machine.ball"));
    EXPECT_EQ(said("seat.intake"), "seat (intake)");
    EXPECT_EQ(said("head.lies as it lies"), "head.lies as it lies");
    EXPECT_EQ(said("reading.first"), "reading of a first seat");
}

TEST(KeyNames, EveryKeyOfTheTableHasOne) {
    for (const seatwright::job::Key& key : all_keys()) {
        const std::string path(key.path);
        const auto star = path.find('*');
        const std::string place =
            star == std::string::npos ? path : path.substr(0, star) + "intake" + path.substr(star + 1);
        EXPECT_NE(name_of_key(place).id(), "list.text") << place;
    }
}

TEST(KeyNames, ASentenceHasAKeyInTheFileAndALabelOnAPage) {
    const Sentence key = the_key("guide.intake.below");
    EXPECT_EQ(in_words(key, {}), "guide.intake.below");
    EXPECT_EQ(in_words(key, on_page(LengthUnit::mm)), "room below the guide (intake)");
    ASSERT_NE(key_alone(key), nullptr);
    EXPECT_EQ(key_alone(key)->path, "guide.intake.below");
    EXPECT_EQ(key_alone(as_it_stands("guide.intake.below")), nullptr);
    // A label is no English sentence, what is said around it is the language's.
    const auto other = fixtures::other_language();
    EXPECT_EQ(in_words(name_of_key("reading.first.6.3I.depth"), on_page(LengthUnit::mm, *other.catalogue)),
              "depth bs 3I (reading of a first seat, urnq 6)");
}

// Whoever reads a page has no file at hand.
TEST(KeyNames, NoLineTellsAPageWhatToWriteIntoTheFile) {
    const std::regex file(
        R"(`|\[\[|\ballow\b.*=|\bsure = |\bkeep = true|head\.assumed|\d deg\b|\} deg\b|what = "|)"
        R"(\b(head|seat|valve|guide|fixture|machine|depth|find|prove|forecast|reading|pilot|cutter)\.[a-z_])");
    std::string found;
    for (const words::Line& line : words::english().lines())
        if (std::regex_search(std::string(words::english().on_page(line.id)), file))
            found += std::string(line.id) + "\n";
    EXPECT_EQ(found, "job.sure-beside\n");
}

}  // namespace
}  // namespace seatwright::job
