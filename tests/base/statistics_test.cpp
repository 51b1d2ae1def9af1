// Certified sets of the NIST Statistical Reference Datasets: univariate, a straight line.
#include "seatwright/base/numerics/statistics.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "seatwright/base/numerics/moments.hpp"
#include "shared_data.hpp"

namespace seatwright::numerics {
namespace {

// Digits that agree: −log10 of the relative error, 15 at most.
double digits(double value, double reference) {
    if (value == reference) return 15;
    const double scale = reference != 0 ? std::abs(reference) : 1;
    return std::min(15.0, -std::log10(std::abs(value - reference) / scale));
}

// Data from line 61 on, as every file of the collection has it.
std::vector<std::vector<double>> data_rows(const std::string& path) {
    return outside::number_rows(path, 61);
}

struct Univariate {
    const char* name;
    double mean, sd, lag1;
    double sd_digits;  // what the conditioning mean/sd leaves of fifteen
};

TEST(Statistics, UnivariateCertified) {
    const std::vector<Univariate> sets{
        {"PiDigits", 4.5348, 2.86733906028871, -0.00355099287237972, 13},
        {"Lottery", 518.958715596330, 291.699727470969, -0.120948622967393, 13},
        {"Lew", -177.435, 277.332168044316, -0.307304800605679, 13},
        {"Mavro", 2.001856, 0.000429123454003053, 0.937989183438248, 11},
        {"Michelso", 299.8524, 0.0790105478190518, 0.535199668621283, 11},
        {"NumAcc1", 10000002, 1, -0.5, 13},
        {"NumAcc2", 1.2, 0.1, -0.999, 13},
        {"NumAcc3", 1000000.2, 0.1, -0.999, 8},
        {"NumAcc4", 10000000.2, 0.1, -0.999, 7}};
    for (const auto& set : sets) {
        const auto path = outside::data_file(std::string("nist_strd/univariate/") + set.name + ".dat");
        if (!path) GTEST_SKIP() << outside::missing(outside::no_data);
        std::vector<double> values;
        for (const auto& row : data_rows(*path)) values.push_back(row.front());
        const Summary s = summary(values);
        EXPECT_GE(digits(s.mean, set.mean), 13.5) << set.name;
        EXPECT_GE(digits(s.sd, set.sd), set.sd_digits) << set.name;
        EXPECT_GE(digits(s.lag1, set.lag1), set.sd_digits - 2.5) << set.name;
    }
}

// Certified: Norris, y = b0 + b1·x; built up of single pairs.
TEST(Statistics, StraightLineCertified) {
    const auto path = outside::data_file("nist_strd/linear/Norris.dat");
    if (!path) GTEST_SKIP() << outside::missing(outside::no_data);
    PairMoments line;
    for (const auto& row : data_rows(*path))
        line = line + PairMoments{.n = 1, .mean_x = row.at(1), .mean_y = row.at(0)};
    EXPECT_EQ(line.n, 36);
    EXPECT_GE(digits(line.slope(), 1.00211681802045), 13);
    EXPECT_GE(digits(line.slope_sd(), 0.429796848199937e-3), 9);
    EXPECT_GE(digits(line.at(0), -0.262323073774029), 11);
    EXPECT_GE(digits(line.residual_sd(), 0.884796396144373), 9);
}

}  // namespace
}  // namespace seatwright::numerics
