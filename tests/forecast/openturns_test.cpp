// Two cases of the forecast against an independent program, OpenTURNS (bench/forecast_openturns.py). Where it
// is not installed the test says so; ./check --all and bench/figures install it.
#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <cstdio>
#include <map>
#include <memory>
#include <sstream>
#include <string>

#include "missing.hpp"
#include "places.hpp"
#include "seatwright/base/units.hpp"
#include "seatwright/forecast/integrate.hpp"

namespace seatwright::forecast {
namespace {

// Empty: it could not be run.
std::map<std::string, double> told_by_openturns() {
    const std::string command =
        "/usr/bin/python3 '" + std::string(places::root) + "/bench/forecast_openturns.py' 2>/dev/null";
    const std::unique_ptr<FILE, int (*)(FILE*)> pipe(popen(command.c_str(), "r"), pclose);
    std::map<std::string, double> out;
    if (!pipe) return out;
    std::array<char, 200> line{};
    while (std::fgets(line.data(), line.size(), pipe.get())) {
        std::istringstream words(line.data());
        std::string name;
        double value = 0;
        if (words >> name >> value) out[name] = value;
    }
    return out;
}

Seat seat_of(double angle_deg) {
    Seat seat;
    seat.angle = rad(angle_deg);
    seat.gauge = 48;
    return seat;
}

TEST(OpenTurns, SaysTheSame) {
    const auto told = told_by_openturns();
    if (told.empty() && std::getenv("SEATWRIGHT_ALL") == nullptr)
        GTEST_SKIP() << "python3-openturns is not installed; ./check --all does";
    ASSERT_EQ(told.size(), 2U);

    Batch rice;
    rice.setups = {Held{}};
    rice.zeros = {0};
    rice.share = 0.8;
    rice.guide_angle_sd = rad(0.03);
    rice.seats = {seat_of(45)};
    rice.seats.front().residual = {rad(0.03), 0};
    rice.seats.front().runout_max = 0.05;

    Batch yaw;
    yaw.setups = {Held{}};
    yaw.setups.front().pose(2, 2) = std::pow(std::sqrt(2.0) * 0.4 / (4 * 400), 2);
    yaw.zeros = {0};
    yaw.casting_sd = 0.05;
    for (const double x : {100.0, 300.0}) {
        yaw.seats.push_back(seat_of(45));
        yaw.seats.back().from_posts = {x, 0};
        yaw.seats.back().room = 0.15;
    }
    for (const auto& [name, batch] : {std::pair("rice", rice), std::pair("yaw", yaw)}) {
        const Rates rates = integrated(batch);
        EXPECT_NEAR(rates.good, told.at(name), std::max(2 * rates.error, 1e-8)) << name;
        EXPECT_LT(rates.error, 1e-4) << name;
    }
}

}  // namespace
}  // namespace seatwright::forecast
