// The walk: somebody who knows nothing but how many valves the head has, and does what is asked, sentence by
// sentence, ends with every figure known. The answers come from the simulated shop's own forward model.
#include <gtest/gtest.h>

#include <map>
#include <set>

#include "seatwright/survey/walk.hpp"
#include "spoken.hpp"
#include "survey/simulated.hpp"
#include "survey/surveyed.hpp"

namespace seatwright::survey {
namespace {

namespace sim = simulated;

// Answers asks about one head.
class Person {
  public:
    Person(const sim::Head& head, std::uint64_t seed) : head_(head), normal_(seed) {
        zero_ = normal_(0.3);
        setups_[level_setup] = placed(0.5 * normal_(1), 0.3 * normal_(1));
        for (const auto& g : head_.guides) said_.guides.push_back(g.id);
    }

    // Letters of rows whose sign that way is missed, each until somebody has looked.
    std::set<std::string> missed;
    job::Across missed_across = job::Across::incline;
    const Said& said() const { return said_; }
    std::string text() const {
        std::string out = "units = \"mm\"\n[sensor]\nzero = \"table\"\n" + text_;
        for (const auto& l : levels_) {
            const bool turned = misses(l.ask.id, l.ask.across);
            out += fmt::format(
                "[[level]]\nsetup = \"{}\"\nwhat = \"{}\"\nacross = \"{}\"\nfirst = {:.4f}\nsecond = "
                "{:.4f}\n",
                l.ask.setup, l.what, l.ask.across == job::Across::incline ? "incline" : "cant",
                turned ? l.second : l.first, turned ? l.first : l.second);
            if (!l.ask.id.empty()) out += fmt::format("id = \"{}\"\n", l.ask.id);
        }
        return out;
    }

    void answer(const Ask& a) {
        switch (a.of) {
            case Ask::Of::setup: {
                const auto& g = guide(a.id);
                const auto u = sim::axis(g);
                const double tilt = std::atan2(u[1], std::hypot(u[0], u[2])) / sim::degree,
                             swing = -std::atan2(u[0], u[2]) / sim::degree;
                if (missed.empty()) {
                    EXPECT_NEAR(deg(a.tilt.value_or(rad(tilt))), tilt, 0.6) << a.id;
                }
                setups_[a.setup] = placed(tilt + normal_(0.03), swing + normal_(0.03));
                const auto& at = setups_[a.setup];
                said_.setups.push_back({a.setup, rad(at.tilt + zero_ + normal_(0.02)),
                                        rad(at.swing + zero_ + normal_(0.02)), a.id});
                return;
            }
            case Ask::Of::deck_level:
                return level(a, "deck", {0, 0, 1});
            case Ask::Of::guide_level:
                return level(a, "guide", sim::axis(guide(a.id)));
            case Ask::Of::deck: {
                const double far = 300;
                const std::map<std::string, sim::Point3> places{
                    {"1", {0, -20, 0}}, {"2", {far, -20, 0}}, {"3", {far / 2, 40, 0}}};
                return point(a, "deck", places.at(a.id), "xyz");
            }
            case Ask::Of::hole: {
                const std::size_t n = head_.holes.size() / 2;
                const auto& h = a.id == "H1" ? head_.holes[0] : head_.holes[n - 1];
                const double r = 10, over = std::sqrt(r * r - head_.hole_radius * head_.hole_radius);
                return point(a, "hole", {h[0], h[1], over}, "xyz",
                             fmt::format("ball = {}\ndiameter = {}\n", r, 2 * head_.hole_radius));
            }
            case Ask::Of::guide:
                return point(a, "guide", guide(a.id).at, "xy");
            case Ask::Of::valve_head:
                return point(a, "valve head", sim::along(guide(a.id).at, sim::axis(guide(a.id)), 2.4), "z",
                             "head_height = 2.4\n");
            case Ask::Of::way:
                // Somebody looks: from then on the row has its sign.
                EXPECT_EQ(a.across, missed_across);
                EXPECT_EQ(missed.erase(guide_name(a.id) ? guide_name(a.id)->letters : a.id), 1u)
                    << a.id << "'s signs are right";
                return;
            case Ask::Of::end:
                FAIL() << "the head does not lie turned";
            case Ask::Of::size:
                text_ += fmt::format("[[size]]\nwhat = \"{}\"\nid = \"{}\"\nvalue = {}\n", word_of(a.size),
                                     a.id, sizes_.at(a.size));
                return;
        }
    }

  private:
    bool misses(const std::string& guide, job::Across across) const {
        return across == missed_across && !guide.empty() && missed.count(guide_name(guide)->letters) > 0;
    }
    sim::Attitude placed(double tilt, double swing) {
        return {tilt, swing, normal_(0.1), {normal_(40), normal_(40), normal_(40)}};
    }
    const sim::Guide& guide(const std::string& id) const {
        for (const auto& g : head_.guides)
            if (g.id == id) return g;
        throw std::runtime_error(id);
    }
    void level(const Ask& a, const std::string& what, const sim::Point3& u) {
        const auto v = sim::turned(setups_.at(a.setup), u);
        const double lean = std::atan2(a.across == job::Across::incline ? v[1] : v[0], v[2]) / sim::degree;
        const double first = lean + zero_ + normal_(0.02), second = -lean + zero_ + normal_(0.02);
        levels_.push_back({a, what, first, second});
    }
    void point(const Ask& a, const std::string& what, const sim::Point3& p, const std::string& axes,
               const std::string& more = {}) {
        const auto r = sim::on_table(setups_.at(a.setup), p);
        text_ += fmt::format("[[point]]\nsetup = \"{}\"\nwhat = \"{}\"\n{}", a.setup, what, more);
        if (what != "deck") text_ += fmt::format("id = \"{}\"\n", a.id);
        for (const auto& s : said_.setups)
            if (s.setup == a.setup)
                text_ += fmt::format("tilt = {:.4f}\nswing = {:.4f}\n", deg(*s.tilt), deg(*s.swing));
        for (std::size_t k = 0; k < 3; ++k)
            if (axes.find("xyz"[k]) != std::string::npos)
                text_ += fmt::format("{} = {:.4f}\n", "xyz"[k], r[k] + normal_(0.02));
    }

    const sim::Head& head_;
    sim::Normal normal_;
    double zero_ = 0;
    std::map<std::string, sim::Attitude> setups_;
    struct Levelled {
        Ask ask;
        std::string what;
        double first, second;
    };
    std::vector<Levelled> levels_;
    Said said_;
    std::string text_;
    std::map<SizeOf, double> sizes_{{SizeOf::bore, 8.02},
                                    {SizeOf::stem, 7.97},
                                    {SizeOf::valve_head, 40},
                                    {SizeOf::guide_length, 54},
                                    {SizeOf::to_seat, 40}};
};

std::vector<Step> steps_of(const Person& person, const std::string& text) {
    const auto readings = read_readings(text, "readings.toml");
    if (!readings) return walk(person.said(), Readings{}, nullptr);  // nothing is read yet
    const auto found = asked_survey(*readings);
    return walk(person.said(), *readings, found ? &*found : nullptr);
}

class Walked : public testing::TestWithParam<std::string> {};

TEST_P(Walked, DoingWhatIsAskedDescribesTheHead) {
    sim::Normal normal(20260131);
    const auto head = sim::head_of(sim::layout(GetParam()), {}, normal);
    Person person(head, 7);
    std::size_t asked = 0, tilts = 0;
    std::string setup = level_setup;
    std::set<std::string> left;
    for (; asked < 600; ++asked) {
        const auto steps = steps_of(person, person.text());
        if (steps.empty()) break;
        const auto& ask = steps.front().ask;
        ASSERT_FALSE(spoken(steps.front().sentence).empty());
        ASSERT_FALSE(spoken(steps.front().why).empty());
        if (ask.of == Ask::Of::setup) ++tilts;
        if (!ask.setup.empty() && ask.setup != setup) {
            EXPECT_TRUE(left.insert(setup).second) << "nobody is sent back to setup " << setup;
            setup = ask.setup;
        }
        person.answer(ask);
    }
    ASSERT_LT(asked, 600u) << "it never ends";
    const auto found = surveyed(person.text());
    ASSERT_EQ(found.valves.size(), head.guides.size());
    EXPECT_TRUE(found.missing.empty()) << spoken(found.missing.front().what);
    EXPECT_TRUE(found.aside.empty()) << spoken(found.aside.front().what);
    for (const auto& v : found.valves) {
        ASSERT_TRUE(v.whole()) << v.id;
        EXPECT_LE(v.x.u, 0.05) << v.id;
        EXPECT_LE(v.y.u, 0.05) << v.id;
        EXPECT_LE(v.z.u, 0.05) << v.id;
        EXPECT_LE(deg(v.incline.u), 0.03) << v.id;
        const auto& true_guide = *std::find_if(head.guides.begin(), head.guides.end(),
                                               [&](const auto& g) { return g.id == v.id; });
        EXPECT_NEAR(deg(*v.incline.value), true_guide.incline, 5 * deg(v.incline.u) + 0.05) << v.id;
    }
    std::set<int> directions;
    for (const auto& g : head.guides) directions.insert(g.direction);
    EXPECT_LE(tilts, directions.size()) << "no tilt more than the guides have directions";
}

// A sign missed in a whole row: nothing but the first tilt contradicts it. It is asked with a picture as soon
// as one guide of the row stood under the spindle, once, and once somebody has looked the walk goes on to a
// head that is right.
struct MissedRow {
    const char* kind;
    std::set<std::string> letters;
    job::Across across;
};
void PrintTo(const MissedRow& row, std::ostream* out) {
    *out << row.kind;
    for (const auto& one : row.letters) *out << ", " << one;
    *out << (row.across == job::Across::cant ? " across" : "");
}
class MissedSigns : public testing::TestWithParam<MissedRow> {};

TEST_P(MissedSigns, OfARowAreAskedAtItsFirstGuide) {
    sim::Normal normal(20260131);
    const auto head = sim::head_of(sim::layout(GetParam().kind), {}, normal);
    Person person(head, 7);
    person.missed = GetParam().letters;
    person.missed_across = GetParam().across;
    std::size_t asked = 0, ways = 0;
    std::map<std::string, int> read;
    for (; asked < 600; ++asked) {
        const auto steps = steps_of(person, person.text());
        if (steps.empty()) break;
        const auto& ask = steps.front().ask;
        ASSERT_FALSE(spoken(steps.front().sentence).empty());
        if (ask.of == Ask::Of::guide && person.missed.count(guide_name(ask.id)->letters) > 0) {
            ASSERT_LE(++read[guide_name(ask.id)->letters], 1) << "read on with a wrong sign";
        }
        if (ask.of == Ask::Of::way) ++ways;
        person.answer(ask);
    }
    ASSERT_LT(asked, 600u) << "it never ends";
    EXPECT_EQ(ways, GetParam().letters.size());
    const auto found = surveyed(person.text());
    EXPECT_TRUE(found.aside.empty()) << spoken(found.aside.front().what);
    for (const auto& g : head.guides) {
        const auto& v = valve(found, g.id);
        ASSERT_TRUE(v.whole()) << g.id;
        EXPECT_NEAR(deg(*v.incline.value), g.incline, 5 * deg(v.incline.u) + 0.05) << g.id;
        EXPECT_NEAR(deg(*v.cant.value), g.cant, 5 * deg(v.cant.u) + 0.05) << g.id;
    }
}

INSTANTIATE_TEST_SUITE_P(Heads, MissedSigns,
                         testing::Values(MissedRow{"bathtub", {"I"}, job::Across::incline},
                                         MissedRow{"wedge", {"E"}, job::Across::incline},
                                         MissedRow{"wedge", {"I"}, job::Across::incline},
                                         MissedRow{"canted", {"I"}, job::Across::incline},
                                         MissedRow{"canted", {"E"}, job::Across::incline},
                                         MissedRow{"canted", {"I"}, job::Across::cant},
                                         MissedRow{"canted", {"E"}, job::Across::cant},
                                         MissedRow{"canted", {"I", "E"}, job::Across::cant},
                                         MissedRow{"hemispherical", {"I"}, job::Across::incline},
                                         MissedRow{"hemispherical", {"E"}, job::Across::incline},
                                         MissedRow{"pent-roof", {"Ia"}, job::Across::incline},
                                         MissedRow{"pent-roof", {"Ib"}, job::Across::incline},
                                         MissedRow{"pent-roof", {"Eb"}, job::Across::incline},
                                         MissedRow{"pent-roof, five valves", {"Ib"}, job::Across::incline},
                                         MissedRow{"pent-roof, five valves", {"Ic"}, job::Across::incline},
                                         MissedRow{"radial, one cylinder", {"Eb"}, job::Across::incline},
                                         MissedRow{"radial, one cylinder", {"Ia"}, job::Across::cant}));

std::vector<std::string> kinds() {
    std::vector<std::string> out;
    for (const auto& l : sim::layouts()) out.push_back(l.kind);
    return out;
}
INSTANTIATE_TEST_SUITE_P(Heads, Walked, testing::ValuesIn(kinds()));

TEST(Walk, WhatIsLeftOutIsNotAskedAndLikeGuidesStandIn) {
    sim::Normal normal(11);
    const auto head = sim::head_of(sim::layout("hemispherical"), {}, normal);
    Person person(head, 3);
    Said said = person.said();
    for (const auto& g : said.guides)
        if (g[0] != '1')
            for (const char* across : {"incline", "cant"})
                said.left_out.push_back(fmt::format("guide level/L/{}/{}", g, across));
    const auto first = walk(said, Readings{}, nullptr);
    for (const auto& s : first)
        EXPECT_TRUE(s.ask.of != Ask::Of::guide_level || s.ask.id[0] == '1') << spoken(s.sentence);
    for (const auto& s : first)
        if (s.ask.setup == level_setup) person.answer(s.ask);
    const auto readings = read_readings(person.text(), "readings.toml");
    ASSERT_TRUE(readings) << words_of(readings.error());
    const auto found = asked_survey(*readings);
    ASSERT_TRUE(found);
    std::map<std::string, std::string> setup_of;
    for (const auto& s : walk(said, *readings, &*found))
        if (s.ask.of == Ask::Of::guide) setup_of[s.ask.id] = s.ask.setup;
    ASSERT_EQ(setup_of.size(), said.guides.size());
    EXPECT_EQ(setup_of["4I"], setup_of["1I"]);
    EXPECT_EQ(setup_of["4E"], setup_of["1E"]);
    EXPECT_NE(setup_of["1I"], setup_of["1E"]);
}

TEST(Walk, NamesGuidesAsAJobDoes) {
    EXPECT_EQ(guide_names(2, 1, 1), (std::vector<std::string>{"1I", "1E", "2I", "2E"}));
    EXPECT_EQ(guide_names(1, 2, 1), (std::vector<std::string>{"1Ia", "1Ib", "1E"}));
}

}  // namespace
}  // namespace seatwright::survey
