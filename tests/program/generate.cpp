#include "generate.hpp"

#include <fmt/format.h>

#include <cmath>

namespace seatwright::sim {

namespace {

class Draw {
  public:
    explicit Draw(std::mt19937& random) : random_(random) {}
    double between(double a, double b) { return std::uniform_real_distribution<double>(a, b)(random_); }
    int pick(int n) { return std::uniform_int_distribution<int>(0, n - 1)(random_); }
    bool coin() { return pick(2) == 0; }
    // To a whole number of steps, as a person writes it.
    double read(double a, double b, double step) { return step * std::round(between(a, b) / step); }
    P2 stray(double most) { return {between(-most, most), between(-most, most)}; }

  private:
    std::mt19937& random_;
};

Seat seat_at(std::string id, bool intake, int cylinder, P3 at, double incline_deg) {
    Seat seat;
    seat.id = std::move(id);
    seat.intake = intake;
    seat.cylinder = cylinder;
    seat.at = at;
    seat.incline = radians(incline_deg);
    seat.recession = seat.recession_read = 0.2;
    return seat;
}

void draw_seats(Case& c, Draw& draw) {
    const bool faces = draw.coin();
    for (Seat& seat : c.seats) {
        seat.stray = draw.stray(0.06);
        seat.touch_error = draw.stray(0.006);
        seat.recession = seat.recession_read = draw.read(0.10, 0.40, 0.01);
        seat.cleanup = draw.read(0.08, 0.20, 0.01);
        seat.read_face = faces;
        if (faces) {
            seat.outside_wider = draw.read(0, 0.2, 0.001);
            seat.inside_wider = draw.read(0, 0.2, 0.001);
        }
        seat.bore = seat.bore_read = draw.read(8.712, 8.715, 0.001);
    }
    c.seats.front().touch_error = {};
    c.yaw = radians(draw.between(-0.2, 0.2));
}

// Some guides were reamed: two sizes of pilot on one head, the second a little longer.
void two_pilots(Case& c, Draw& draw) {
    c.pilots.push_back({"two", 8.71 + reamed, 2});
    for (Seat& seat : c.seats) {
        seat.large = draw.coin();
        if (seat.large) seat.bore = seat.bore_read = seat.bore + reamed;
    }
}

void draw_machine(Case& c, Draw& draw) {
    c.inch_programs = draw.coin();
    c.semicolon = draw.coin();
    c.numbered = draw.coin();
    c.milliseconds = draw.pick(3) == 0;
    c.ends_m30 = draw.coin();
    c.worded_top = draw.pick(3) != 0;
    c.decimals = 4 + draw.pick(2);
    c.floats = static_cast<FloatBy>(draw.pick(5));
    c.lock_to_cut = draw.pick(4) != 0;
    c.x_sign = draw.coin() ? 1 : -1;
    c.y_sign = draw.coin() ? 1 : -1;
    if (draw.coin()) c.load_at = P2{-80, -120};
    if (draw.coin()) c.measure_at = P2{-70, -110};
    c.trim_at_control = draw.pick(4) == 0;
    c.cutter_off = draw.coin();
}

}  // namespace

Case wedge(int cylinders, double spacing, double incline_deg) {
    Case c;
    c.exhaust.head_diameter = 38;
    for (int k = 1; k <= cylinders; ++k) {
        const double x = (k - 1) * spacing;
        c.seats.push_back(seat_at(fmt::format("{}E", k), false, k, {x - 22, 4, -9}, incline_deg));
        c.seats.push_back(seat_at(fmt::format("{}I", k), true, k, {x + 22, 4, -9}, incline_deg));
    }
    c.deck_at = {0.5 * spacing * (cylinders - 1), 38};
    c.deck_low = {-75, -60};
    c.deck_high = {(cylinders - 1) * spacing + 75, 60};
    return c;
}

Case pent_roof(int cylinders, double spacing, double half_angle_deg) {
    Case c;
    c.intake.head_diameter = 34;
    c.exhaust.head_diameter = 29;
    for (int k = 1; k <= cylinders; ++k) {
        const double x = (k - 1) * spacing;
        for (const double side : {-1.0, 1.0}) {
            const char letter = side < 0 ? 'a' : 'b';
            c.seats.push_back(
                seat_at(fmt::format("{}E{}", k, letter), false, k, {x + side * 18, -20, -6}, half_angle_deg));
            c.seats.push_back(seat_at(fmt::format("{}I{}", k, letter), true, k, {x + side * 19.5, 21, -6},
                                      -half_angle_deg));
        }
    }
    c.deck_at = {0, 50};
    c.deck_low = {-70, -75};
    c.deck_high = {(cylinders - 1) * spacing + 70, 75};
    return c;
}

Case generated(std::mt19937& random, int number) {
    Draw draw(random);
    const int kind = draw.pick(5);
    Case c = kind < 3 ? wedge(1 + draw.pick(4), draw.between(92, 130), kind == 0 ? 0 : draw.between(-25, 25))
             : kind == 3 ? wedge(1 + draw.pick(4), draw.between(92, 130), 0)
                         : pent_roof(1 + draw.pick(3), draw.between(84, 110), draw.between(5, 22));
    c.name = fmt::format("simulated {}", number);
    draw_seats(c, draw);
    draw_machine(c, draw);
    const Way ways[] = {Way::carried, Way::carried, Way::live, Way::planted, Way::none};
    c.way = ways[draw.pick(5)];
    c.offsets = draw.coin();
    const bool upright = kind == 0 || kind == 3;
    const int zero = draw.pick(3);
    if (zero == 1 && c.offsets) c.zero = ZeroBy::ball;
    if (zero == 1 && !c.offsets && upright && c.seats.front().cant == 0) c.zero = ZeroBy::block;
    c.to_height = draw.coin();
    if (c.to_height) c.finish = draw.read(0.5, 0.6, 0.01);
    c.first_stop = draw.pick(3) != 0;
    if (draw.pick(4) == 0) c.feeler = 0.05;
    if (draw.pick(4) == 0) c.deck_cut = 0.1;
    c.ball = draw.read(2, 4, 0.5);
    // By draws of its own, so that the heads are those of before.
    std::mt19937 reams(static_cast<unsigned>(number));
    Draw own(reams);
    if (own.pick(3) == 0) two_pilots(c, own);
    return c;
}

}  // namespace seatwright::sim
