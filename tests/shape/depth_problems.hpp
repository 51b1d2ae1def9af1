// Random depth problems, from mild to quarrelsome; seeded, invented.
#pragma once

#include <cmath>
#include <random>

#include "seatwright/shape/depth_problem.hpp"

namespace seatwright::shape::problems {

struct Shape {
    int cylinders = 4, intakes = 1, exhausts = 1;
    double wear = 0.4, scatter = 0.15;  // of cleanup and of stem heights, mm
    double limit_from = 0.5, limit_to = 1.2;
    double stem_spread = 0.3, chamber_spread = 400;
    double chamber_scatter = 400;
    double step = 0.01;
};

inline DepthProblem random_problem(const Shape& of, std::mt19937_64& random) {
    const auto uniform = [&](double a, double b) {
        return std::uniform_real_distribution<double>(a, b)(random);
    };
    DepthProblem p;
    p.stem_spread = of.stem_spread;
    p.chamber_spread = of.chamber_spread;
    p.area = {1555.3, 1140.1};  // valves of 44.5 and 38.1 mm
    p.step = of.step;
    for (int c = 0; c < of.cylinders; ++c) {
        p.chamber.push_back(64'000 + uniform(-of.chamber_scatter, of.chamber_scatter));
        p.cylinder_name.push_back(c + 1);
        for (int v = 0; v < of.intakes + of.exhausts; ++v) {
            DepthSeat s;
            s.valve = p.seats.size();
            s.name = std::to_string(p.seats.size());
            s.kind = v < of.intakes ? job::Kind::intake : job::Kind::exhaust;
            s.low = std::round(uniform(0, of.wear) * 1e4) / 1e4;
            s.high = std::round(uniform(of.limit_from, of.limit_to) * 1e4) / 1e4;
            s.stem = 47.5 + std::round(uniform(-of.scatter, of.scatter) * 1e3) / 1e3;
            s.cylinder = static_cast<std::size_t>(c);
            s.limited_by = "recession";
            p.seats.push_back(s);
        }
    }
    return p;
}

}  // namespace seatwright::shape::problems
