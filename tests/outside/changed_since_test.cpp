// A job changed after its first seat was cut: the reading is held against the file that cut it, as the folder
// of the papers has it, not against the plan as it is now.
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "outside/two_plans.hpp"

namespace seatwright::outside {
namespace {

using nlohmann::json;

// A job file of its own and the folder its papers go to.
struct Shop {
    Scratch scratch;
    std::string text = slurp(wedge);
    fs::path folder = scratch.path() / "papers";

    Shop() {
        const std::string shop = "\"../../shop/shop.toml\"";
        change(shop, "\"" + std::string(places::root) + "/shop/shop.toml\"");
    }
    void change(const std::string& from, const std::string& to) {
        const auto at = text.find(from);
        ASSERT_NE(at, std::string::npos) << from;
        text.replace(at, from.size(), to);
    }
    json plan() {
        const auto job = scratch.write("job.toml", text);
        const auto ran = run("plan " + job.string() + " --json --out " + folder.string());
        status = ran.status;
        return json::parse(ran.out);
    }
    int status = 0;
};

std::map<std::string, double> stops_of(const json& plan) {
    std::map<std::string, double> out;
    for (const auto& program : plan.at("cut").at("programs"))
        for (const auto& stop : program.at("stops"))
            out[program.at("file").get<std::string>() + " " + stop.at("id").get<std::string>()] =
                stop.at("z_mm");
    return out;
}

TEST(ChangedSince, TheFirstFileNotThePlanAsItIsNowIsWhatAReadingIsHeldAgainst) {
    Shop shop;
    std::string head, valve, figure;
    double planned = 0;
    const json begun = shop.plan();
    for (const auto& program : begun.at("cut").at("programs"))
        for (const auto& first : program.at("first_readings"))
            if (valve.empty()) {
                head = program.at("head");
                valve = first.at("valve");
                figure = first.at("figure");
                planned = first.at("planned_mm");
            }
    ASSERT_FALSE(valve.empty());
    // It came out as planned: the second file moves nothing.
    const auto reading =
        fmt::format("\n[[reading.first]]\nhead = \"{}\"\nvalve = \"{}\"\n{} = \"{:.4f} mm\"\n", head, valve,
                    figure, planned);
    shop.text += reading;
    const auto as_planned = stops_of(shop.plan());
    EXPECT_EQ(shop.status, 0);

    // More is to come off that seat, by a figure typed afterwards.
    const auto at = shop.text.find("valve = \"" + valve + "\"", shop.text.find("[[reading.seat]]"));
    const auto cleanup = shop.text.find("cleanup = ", at);
    shop.text.replace(cleanup, shop.text.find('\n', cleanup) - cleanup, "cleanup = 0.008");
    for (int again = 0; again < 2; ++again) {
        const json plan = shop.plan();
        EXPECT_EQ(shop.status, 3);
        std::string frees;
        for (const auto& held : plan.at("cut").at("held_back"))
            if (held.at("code") == "missing") frees = held.at("frees");
        EXPECT_NE(frees.find("planned = "), std::string::npos) << plan.at("cut").at("held_back");
        for (const auto& [name, bytes] : files_in(shop.folder))
            if (is_program(name)) EXPECT_EQ(bytes.find("trim "), std::string::npos) << name;
    }
    // He says what the file that cut it planned: nobody else's seat moves.
    shop.text += fmt::format("planned = \"{:.4f} mm\"\n", planned);
    const auto after = stops_of(shop.plan());
    EXPECT_EQ(shop.status, 0);
    ASSERT_FALSE(after.empty());
    int compared = 0;
    for (const auto& [stop, z] : after)
        if (!stop.ends_with(" " + valve) && as_planned.contains(stop)) {
            EXPECT_NEAR(z, as_planned.at(stop), 1e-6) << stop;
            ++compared;
        }
    EXPECT_GT(compared, 2);
}

TEST(ChangedSince, AListSpoiltOrOfAnotherJobSaysNothing) {
    Shop shop;
    shop.plan();
    const auto list = shop.folder / "papers.json";
    auto text = json::parse(slurp(list));
    ASSERT_FALSE(text.at("first_seats").empty());
    const std::string head = text["first_seats"][0]["head"], valve = text["first_seats"][0]["valve"];
    shop.text +=
        fmt::format("\n[[reading.first]]\nhead = \"{}\"\nvalve = \"{}\"\ndepth = \"0.05 mm\"\n", head, valve);
    const json without = shop.plan();
    for (const char* spoilt : {"null", "[1]", "{\"head\": 1}", "[{\"head\": \"1\"}]"}) {
        auto changed = text;
        changed["first_seats"] = json::parse(spoilt);
        std::ofstream(list) << changed;
        EXPECT_EQ(shop.plan(), without) << spoilt;
    }
    auto others = text;
    others["job"] = "another";
    for (auto& first : others["first_seats"]) first["planned_mm"] = 0.5;
    std::ofstream(list) << others;
    EXPECT_EQ(shop.plan(), without);
    EXPECT_EQ(json::parse(slurp(list)).at("job"), text.at("job"));
}

}  // namespace
}  // namespace seatwright::outside
