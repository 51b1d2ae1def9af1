// The drawing engine's numbers put through the examples of JCGM 101 (GUM supplement 1), and the conformance
// probabilities of JCGM 106. Table values as remembered from the documents where marked, exact ones computed.
#include <gtest/gtest.h>

#include <algorithm>
#include <boost/math/distributions/normal.hpp>
#include <cmath>
#include <functional>
#include <vector>

#include "seatwright/base/units.hpp"
#include "seatwright/forecast/single.hpp"
#include "seatwright/forecast/transforms.hpp"

namespace seatwright::forecast {
namespace {

constexpr std::size_t blocks = 1'024'000 / lanes;  // trials: as JCGM 101 asks (10⁶)

// Independent inputs of one trial: standard normals and numbers even in (−1, 1).
struct Inputs {
    std::array<Lane, 6> normal, even;
};

// Values of a model over all trials, sorted.
std::vector<double> trials(const std::function<double(const Inputs&, std::size_t)>& model) {
    std::vector<double> out;
    out.reserve(blocks * lanes);
    for (std::uint64_t block = 0; block < blocks; ++block) {
        Inputs in;
        for (std::uint32_t group = 0; group < 3; ++group) {
            Words words;
            philox(101, block * lanes, group, words);
            normals(words.a, words.b, in.normal[2 * group], in.normal[2 * group + 1]);
            for (std::size_t i = 0; i < lanes; ++i) {
                in.even[2 * group][i] = 2 * even_of(words.c[i]) - 1;
                in.even[2 * group + 1][i] = 2 * even_of(words.d[i]) - 1;
            }
        }
        for (std::size_t i = 0; i < lanes; ++i) out.push_back(model(in, i));
    }
    std::sort(out.begin(), out.end());
    return out;
}

struct Found {
    double mean = 0, u = 0, low = 0, high = 0;  // shortest interval of that coverage
};

Found found(const std::vector<double>& sorted, double coverage, bool shortest = true) {
    Found out;
    const double n = static_cast<double>(sorted.size());
    for (const double y : sorted) out.mean += y / n;
    for (const double y : sorted) out.u += (y - out.mean) * (y - out.mean) / (n - 1);
    out.u = std::sqrt(out.u);
    const auto wide = static_cast<std::size_t>(coverage * n);
    std::size_t first = static_cast<std::size_t>((1 - coverage) / 2 * n);
    if (shortest)
        for (std::size_t i = 0; i + wide < sorted.size(); ++i)
            if (sorted[i + wide] - sorted[i] < sorted[first + wide] - sorted[first]) first = i;
    out.low = sorted[first];
    out.high = sorted[first + wide];
    return out;
}

const double root3 = std::sqrt(3.0);

// 9.2.2: four standard normals added: u 2.0, 95 % ±3.92 (exact ±3.919928).
TEST(Jcgm101, NormalsAdded) {
    const Found y = found(trials([](const Inputs& in, std::size_t i) {
                              return static_cast<double>(in.normal[0][i]) + in.normal[1][i] +
                                     in.normal[2][i] + in.normal[3][i];
                          }),
                          0.95, false);
    EXPECT_NEAR(y.mean, 0, 0.01);
    EXPECT_NEAR(y.u, 2.0, 0.005);
    EXPECT_NEAR(y.low, -3.92, 0.02);
    EXPECT_NEAR(y.high, 3.92, 0.02);
}

// 9.2.3: four rectangular ones of the same u: 95 % ±3.88 (exact ±3.879407).
TEST(Jcgm101, RectangularAdded) {
    const Found y = found(trials([](const Inputs& in, std::size_t i) {
                              return root3 * (static_cast<double>(in.even[0][i]) + in.even[1][i] +
                                              in.even[2][i] + in.even[3][i]);
                          }),
                          0.95, false);
    EXPECT_NEAR(y.u, 2.0, 0.005);
    EXPECT_NEAR(y.low, -3.88, 0.02);
    EXPECT_NEAR(y.high, 3.88, 0.02);
}

// 9.2.4: one of them ten times as large: u 10.1, 95 % ±17.0 (table from memory; exact 10.148892, ±17.015814).
TEST(Jcgm101, OneThatRules) {
    const Found y = found(trials([](const Inputs& in, std::size_t i) {
                              return root3 * (static_cast<double>(in.even[0][i]) + in.even[1][i] +
                                              in.even[2][i] + 10.0 * in.even[3][i]);
                          }),
                          0.95, false);
    EXPECT_NEAR(y.u, 10.149, 0.02);
    EXPECT_NEAR(y.low, -17.0, 0.05);
    EXPECT_NEAR(y.high, 17.0, 0.05);
}

// 9.3: mass calibration. 1.2340, u 0.0754, shortest 95 % [1.0834, 1.3825] (table from memory, itself drawn).
TEST(Jcgm101, MassCalibration) {
    const Found y =
        found(trials([](const Inputs& in, std::size_t i) {
                  const double mass = 100000 + 0.05 * in.normal[0][i], more = 1.234 + 0.02 * in.normal[1][i];
                  const double air = 1.2 + 0.1 * in.even[0][i], weight = 8000 + 1000.0 * in.even[1][i],
                               reference = 8000 + 50.0 * in.even[2][i];
                  return (mass + more) * (1 + (air - 1.2) * (1 / weight - 1 / reference)) - 100000;
              }),
              0.95);
    EXPECT_NEAR(y.mean, 1.2340, 0.0005);
    EXPECT_NEAR(y.u, 0.0754, 0.0005);
    EXPECT_NEAR(y.low, 1.0834, 0.003);
    EXPECT_NEAR(y.high, 1.3825, 0.003);
}

// 9.4: comparison loss of two deviations near 0: y 50e-6, u 50e-6, 95 % [0, 150e-6] (from memory; exact
// shortest [0, 149.7866e-6]); with x₁ = 0.050: 2550e-6, 502e-6, [1593.570, 3548.570]e-6 exact.
TEST(Jcgm101, ComparisonLoss) {
    const auto at = [](double x) {
        return found(trials([x](const Inputs& in, std::size_t i) {
                         const double a = x + 0.005 * in.normal[0][i], b = 0.005 * in.normal[1][i];
                         return 1e6 * (a * a + b * b);
                     }),
                     0.95);
    };
    const Found none = at(0), some = at(0.050);
    EXPECT_NEAR(none.mean, 50, 0.2);
    EXPECT_NEAR(none.u, 50, 0.3);
    EXPECT_NEAR(none.low, 0, 0.1);
    EXPECT_NEAR(none.high, 149.79, 0.8);
    EXPECT_NEAR(some.mean, 2550, 2);
    EXPECT_NEAR(some.u, 502.5, 1.5);
    EXPECT_NEAR(some.low, 1593.6, 12);
    EXPECT_NEAR(some.high, 3548.6, 12);
}

// Numbers of one block of trials, taken one after another as a model asks for them.
class Taker {
  public:
    explicit Taker(std::uint64_t block) : first_(block * lanes) {}
    Lane normal() {
        if (left_) {
            left_ = false;
            return y_;
        }
        Words words;
        philox(95, first_, group_++, words);
        normals(words.a, words.b, x_, y_);
        left_ = true;
        return x_;
    }
    Lane even() {  // in (0, 1)
        Words words;
        philox(95, first_, group_++, words);
        Lane out;
        for (std::size_t i = 0; i < lanes; ++i) out[i] = even_of(words.a[i]);
        return out;
    }
    // Student's t.
    std::array<double, lanes> student(int dof) {
        std::array<double, lanes> out{}, squares{};
        const Lane z = normal();
        for (int k = 0; k < dof; ++k) {
            const Lane one = normal();
            for (std::size_t i = 0; i < lanes; ++i) squares[i] += static_cast<double>(one[i]) * one[i];
        }
        for (std::size_t i = 0; i < lanes; ++i) out[i] = z[i] / std::sqrt(squares[i] / dof);
        return out;
    }
    // Curvilinear trapezoid CTrap(a, b, d) of JCGM 101, 6.4.3.
    std::array<double, lanes> trapezoid(double a, double b, double d) {
        const Lane edge = even(), place = even();
        std::array<double, lanes> out{};
        for (std::size_t i = 0; i < lanes; ++i) {
            const double low = a - d + 2 * d * edge[i], high = a + b - low;
            out[i] = low + (high - low) * place[i];
        }
        return out;
    }

  private:
    std::uint64_t first_;
    std::uint32_t group_ = 0;
    Lane x_{}, y_{};
    bool left_ = false;
};

// 9.5: an end gauge of nominally 50 mm by comparison, deviation in nm (inputs as of GUM H.1; published u 36;
// mean, u and the shortest 99 % interval computed anew by another program with 4e6 trials: 838.01, 35.81,
// [744.9, 932.2]).
TEST(Jcgm101, EndGauge) {
    std::vector<double> all;
    all.reserve(blocks * lanes);
    for (std::uint64_t block = 0; block < blocks; ++block) {
        Taker take(block);
        const auto standard = take.student(18), difference = take.student(24), random = take.student(5),
                   systematic = take.student(8);
        const auto alpha = take.even(), phase = take.even(), temperature = take.normal();
        const auto of_alpha = take.trapezoid(-1e-6, 1e-6, 0.1e-6),
                   of_theta = take.trapezoid(-0.05, 0.05, 0.025);
        for (std::size_t i = 0; i < lanes; ++i) {
            constexpr double nominal = 50e6;  // nm
            const double expansion = 9.5e-6 + 4e-6 * alpha[i];
            const double theta = -0.1 + 0.2 * temperature[i] + 0.5 * std::sin(2 * pi * phase[i]);
            const double gauge = 50'000'623 + 25 * standard[i];
            const double length = (gauge * (1 + expansion * (theta - of_theta[i])) + 215 + 6 * difference[i] +
                                   4 * random[i] + 7 * systematic[i]) /
                                  (1 + (expansion + of_alpha[i]) * theta);
            all.push_back(length - nominal);
        }
    }
    std::sort(all.begin(), all.end());
    const Found y = found(all, 0.99);
    EXPECT_NEAR(y.mean, 838, 0.5);
    EXPECT_NEAR(y.u, 35.81, 0.15);
    EXPECT_NEAR(y.low, 744.9, 1.5);
    EXPECT_NEAR(y.high, 932.2, 1.5);
}

// A logarithm of a rectangular input (NPL report DEM-ES-011, 9.2, as suncal's tests have it): −0.665, u
// 0.606, 95 % [−1.895, 0.095] (exact −0.664900, 0.606227, [ln 0.15, ln 1.1]).
TEST(Jcgm101, LogarithmOfARectangular) {
    const auto y = found(trials([](const Inputs& in, std::size_t i) {
                             return std::log(0.6 + 0.5 * static_cast<double>(in.even[0][i]));
                         }),
                         0.95);
    EXPECT_NEAR(y.mean, -0.6649, 0.002);
    EXPECT_NEAR(y.u, 0.6062, 0.002);
    EXPECT_NEAR(y.low, std::log(0.15), 0.01);
    EXPECT_NEAR(y.high, std::log(1.1), 0.001);
}

// Thermal expansion (NIST TN 1900, example E13, as suncal's tests have it; its scale taken as u): 1.7266e-5,
// u 1.76e-6.
TEST(Jcgm101, ThermalExpansion) {
    const auto y =
        found(trials([](const Inputs& in, std::size_t i) {
                  const double cold = 1.4999 + 1e-4 * in.normal[0][i], warm = 1.5021 + 2e-4 * in.normal[1][i];
                  const double from = 288.15 + 0.02 * in.normal[2][i], to = 373.10 + 0.05 * in.normal[3][i];
                  return (warm - cold) / (cold * (to - from));
              }),
              0.95);
    EXPECT_NEAR(y.mean, 1.7266e-5, 1e-8);
    EXPECT_NEAR(y.u, 1.76e-6, 1e-8);
}

// JCGM 106 7.3.3 (from memory: 0.92 and 0.99; computed 0.919243, 0.989010) and a two-sided tolerance.
TEST(Jcgm106, ConformanceProbability) {
    const auto conforms = [](double value, double u, const Window& window) {
        return single_chance(value, u, window, std::nullopt, Judged::good);
    };
    EXPECT_NEAR(conforms(-5.47, 0.05, {std::nullopt, -5.40}), 0.919243, 1e-6);
    EXPECT_NEAR(conforms(509.7, 8.6, {490.0, std::nullopt}), 0.989010, 1e-6);
    EXPECT_NEAR(conforms(45.021, 0.005, {44.975, 45.025}), 0.788145, 1e-6);
    EXPECT_NEAR(conforms(45.025, 0.005, {44.975, 45.025}), 0.5, 1e-6);
}

// A bad figure passed where nothing guards the limits, at a test uncertainty ratio of 4: published to six
// figures by sandialabs/suncal (test/test_risk.py), computed to nine; and the share of the passed ones that
// is bad. A process of N(10, 0.4) within 9 … 11: Cpk 0.833333, 0.01242 bad (the same source).
TEST(Jcgm106, BadOnesPassedWithoutAGuardBand) {
    struct Case {
        double in_tolerance, passed_bad, of_passed;  // %
    };
    const Window window{-1, 1};
    for (const auto& [in_tolerance, passed_bad, of_passed] :
         {Case{0.60, 4.83860321, 8.26008191}, Case{0.70, 3.92234107, 5.72322040},
          Case{0.80, 2.85583062, 3.63227178}, Case{0.90, 1.59995353, 1.79880477},
          Case{0.95, 0.87101019, 0.92389763}, Case{0.99, 0.19991696, 0.20243878}}) {
        const double sd = 1 / boost::math::quantile(boost::math::normal(), (1 + in_tolerance) / 2),
                     u = sd / 4;
        EXPECT_NEAR(single_chance(0, sd, window, std::nullopt, Judged::good), in_tolerance, 1e-12);
        const double passed = single_chance(0, std::hypot(sd, u), window, std::nullopt, Judged::good);
        const double bad = passed - both_chance(0, sd, window, u, window);
        EXPECT_NEAR(100 * bad, passed_bad, 1e-8) << in_tolerance;
        EXPECT_NEAR(100 * bad / passed, of_passed, 1e-8) << in_tolerance;
    }
    EXPECT_NEAR(1 - single_chance(10, 0.4, {9.0, 11.0}, std::nullopt, Judged::good), 0.01242, 1e-5);
}

// Global risks with the guard band U: by the same figures drawn, and what must add up.
TEST(Jcgm106, GlobalRisksWithAGuardBand) {
    const Window window{-1, 1};
    const double sd = 0.5, u = 0.1;
    const double good = single_chance(0, sd, window, u, Judged::good),
                 passed = single_chance(0, sd, window, u, Judged::passed),
                 both = single_chance(0, sd, window, u, Judged::good_passed),
                 not_failed = single_chance(0, sd, window, u, Judged::not_failed),
                 good_not_failed = single_chance(0, sd, window, u, Judged::good_not_failed);
    double hits[4] = {0, 0, 0, 0}, n = 0;
    for (std::uint64_t block = 0; block < blocks; ++block) {
        Words words;
        philox(106, block * lanes, 0, words);
        Lane x, y;
        normals(words.a, words.b, x, y);
        for (std::size_t i = 0; i < lanes; ++i) {
            const double truth = sd * x[i], read = truth + u * y[i];
            const bool is_good = std::abs(truth) <= 1, passes = std::abs(read) <= 1 - 2 * u,
                       fails = std::abs(read) > 1 + 2 * u;
            hits[0] += passes ? 1 : 0;
            hits[1] += passes && !is_good ? 1 : 0;
            hits[2] += is_good && !passes ? 1 : 0;
            hits[3] += is_good && fails ? 1 : 0;
            ++n;
        }
    }
    const auto agree = [&](double count, double wanted) {
        EXPECT_NEAR(count / n, wanted, 4.5 * std::sqrt(wanted / n));
    };
    agree(hits[0], passed);
    agree(hits[1], passed - both);
    agree(hits[2], good - both);
    agree(hits[3], good - good_not_failed);
    EXPECT_LT(passed, not_failed);
}

}  // namespace
}  // namespace seatwright::forecast
