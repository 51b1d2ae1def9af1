// Certified sets of the NIST Statistical Reference Datasets: univariate, linear regression, analysis of
// variance.
#include "seatwright/base/numerics/statistics.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <fstream>
#include <map>
#include <regex>

#include "shared_data.hpp"

namespace seatwright::numerics {
namespace {

// Digits that agree: −log10 of the relative error, 15 at most.
double digits(double value, double reference) {
    if (value == reference) return 15;
    const double scale = reference != 0 ? std::abs(reference) : 1;
    return std::min(15.0, -std::log10(std::abs(value - reference) / scale));
}

std::string text_of(const std::string& path) {
    std::ifstream in(path);
    return {std::istreambuf_iterator<char>(in), {}};
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

struct Regression {
    const char* name;
    int powers;  // columns x^0…x^powers; −1: as listed, with a constant; 0: slope only
    double least_digits;
};

Eigen::MatrixXd columns_of(const std::vector<std::vector<double>>& rows, int powers) {
    const auto n = static_cast<Eigen::Index>(rows.size());
    if (powers > 0) {
        Eigen::MatrixXd x(n, powers + 1);
        for (Eigen::Index i = 0; i < n; ++i)
            for (int k = 0; k <= powers; ++k) x(i, k) = std::pow(rows[static_cast<std::size_t>(i)][1], k);
        return x;
    }
    const auto width = static_cast<Eigen::Index>(rows[0].size());
    const Eigen::Index first = powers < 0 ? 1 : 0;
    Eigen::MatrixXd x(n, first + width - 1);
    for (Eigen::Index i = 0; i < n; ++i) {
        if (first) x(i, 0) = 1;
        for (Eigen::Index k = 1; k < width; ++k)
            x(i, first + k - 1) = rows[static_cast<std::size_t>(i)][static_cast<std::size_t>(k)];
    }
    return x;
}

TEST(Statistics, RegressionCertified) {
    // Longley's condition number is 5e9 after scaling, Wampler's 2e6: digits lost are theirs.
    const std::vector<Regression> sets{{"Norris", 1, 12}, {"Pontius", 2, 11}, {"NoInt1", 0, 13},
                                       {"NoInt2", 0, 13}, {"Longley", -1, 9}, {"Wampler1", 5, 8},
                                       {"Wampler2", 5, 9}};
    std::size_t compared = 0;
    for (const auto& set : sets) {
        const auto path = outside::data_file(std::string("nist_strd/linear/") + set.name + ".dat");
        if (!path) GTEST_SKIP() << outside::missing(outside::no_data);
        const std::string text = text_of(*path);
        const auto rows = data_rows(*path);
        Eigen::VectorXd y(static_cast<Eigen::Index>(rows.size()));
        for (std::size_t i = 0; i < rows.size(); ++i) y[static_cast<Eigen::Index>(i)] = rows[i][0];
        const auto fit = least_squares(columns_of(rows, set.powers), y);
        ASSERT_TRUE(fit.has_value()) << set.name << ": " << fit.error().text;
        const std::regex parameter(
            R"(\bB([0-9]+)\s+(-?[0-9.]+(?:E[-+]?[0-9]+)?)\s+([0-9.]+(?:E[-+]?[0-9]+)?))");
        Eigen::Index k = 0;
        for (std::sregex_iterator at(text.begin(), text.end(), parameter), end; at != end; ++at, ++k) {
            ASSERT_LT(k, fit->coefficients.size()) << set.name;
            EXPECT_GE(digits(fit->coefficients[k], std::stod((*at)[2])), set.least_digits)
                << set.name << " B" << k;
            const double sd = std::stod((*at)[3]);
            if (sd > 0) {
                EXPECT_GE(digits(std::sqrt(fit->covariance(k, k)), sd), set.least_digits)
                    << set.name << " s" << k;
            }
            ++compared;
        }
        EXPECT_EQ(k, fit->coefficients.size()) << set.name;
    }
    EXPECT_GE(compared, 25u);
}

TEST(Statistics, DependentColumnsAreRefused) {
    Eigen::MatrixXd x(5, 3);
    Eigen::VectorXd y(5);
    for (int i = 0; i < 5; ++i) {
        x.row(i) = Eigen::RowVector3d(1, i, 2 * i + 1);
        y[i] = i;
    }
    EXPECT_FALSE(least_squares(x, y).has_value());
}

struct Anova {
    const char* name;
    double ss_between, ss_within, f, sd_within, sd_between, digits;
};

TEST(Statistics, OneWayCertified) {
    const std::vector<Anova> sets{
        {"SiRstv", 5.11462616e-2, 2.1663656e-1, 1.18046237440255, 0.104076068334656, 0.0197723918634, 11},
        {"AtmWtAg", 3.638341875e-9, 1.04951729166667e-8, 15.9467335677930, 1.51048314446410e-5,
         1.19201963456e-5, 7},
        {"SmLs01", 1.68, 1.80, 21.0, 0.1, 0.0975900072949, 11},
        {"SmLs04", 1.68, 1.80, 21.0, 0.1, 0.0975900072949, 7},
        {"SmLs07", 1.68, 1.80, 21.0, 0.1, 0.0975900072949, 2}};
    for (const auto& set : sets) {
        const auto path = outside::data_file(std::string("nist_strd/anova/") + set.name + ".dat");
        if (!path) GTEST_SKIP() << outside::missing(outside::no_data);
        std::map<int, std::vector<double>> by_group;
        for (const auto& row : data_rows(*path))
            if (row.size() == 2) by_group[static_cast<int>(row[0])].push_back(row[1]);
        std::vector<std::vector<double>> groups;
        for (auto& [key, values] : by_group) groups.push_back(values);
        const auto a = one_way(groups);
        ASSERT_TRUE(a.has_value()) << set.name;
        EXPECT_GE(digits(a->ss_between, set.ss_between), set.digits) << set.name;
        EXPECT_GE(digits(a->ss_within, set.ss_within), set.digits) << set.name;
        EXPECT_GE(digits(a->f, set.f), set.digits) << set.name;
        EXPECT_GE(digits(a->sd_within, set.sd_within), set.digits) << set.name;
        EXPECT_GE(digits(a->sd_between, set.sd_between), set.digits - 1) << set.name;
    }
}

}  // namespace
}  // namespace seatwright::numerics
