#include "slips.hpp"

#include <algorithm>
#include <cmath>

namespace seatwright::sim {

namespace {

constexpr double inch = 25.4;

double between(std::mt19937& random, double a, double b) {
    return std::uniform_real_distribution<double>(a, b)(random);
}
double around(std::mt19937& random, double sd) {
    return std::normal_distribution<double>(0, sd)(random);
}
double whole(double value, double step) {
    return step * std::round(value / step);
}

std::vector<Slip> fitting(Act act) {
    switch (act) {
        case Act::height:
            return {Slip::unit, Slip::sign, Slip::decimal, Slip::valve, Slip::row, Slip::skipped};
        case Act::cleanup:
            return {Slip::unit, Slip::decimal, Slip::valve, Slip::skipped};
        case Act::bore:
            return {Slip::unit, Slip::decimal, Slip::valve, Slip::skipped};
        case Act::touch:
            return {Slip::unit, Slip::sign, Slip::decimal, Slip::valve, Slip::skipped, Slip::rim, Slip::rim};
        case Act::drawing:
            return {Slip::unit, Slip::sign, Slip::decimal};
        case Act::load:
            return {Slip::head, Slip::reversed};
        case Act::post:
            return {Slip::post_hole, Slip::row};
        case Act::pilot:
            return {Slip::pilot};
        case Act::zero:
            return {Slip::zero, Slip::valve};
        case Act::program:
            return {Slip::stale};
        case Act::first:
            return {Slip::unit, Slip::sign, Slip::decimal};
    }
    return {};
}

double mistyped(Slip slip, double value) {
    if (slip == Slip::unit) return value / inch;
    if (slip == Slip::sign) return -value;
    return value * 10;
}

double& figure(Seat& seat, Act act) {
    return act == Act::bore ? seat.bore_read : seat.recession_read;
}

void slip_in_reading(Case& typed, const Slipped& s) {
    Seat& seat = typed.seats[s.seat];
    const bool cleanup = s.act == Act::cleanup;
    if (s.slip == Slip::skipped) {
        if (cleanup) seat.cleanup.reset();
        if (s.act == Act::height) seat.read_height = false;
        if (s.act == Act::bore) seat.read_guide = false;
    } else if (s.slip == Slip::valve) {
        Seat& other = typed.seats[s.other];
        if (cleanup)
            std::swap(seat.cleanup, other.cleanup);
        else
            std::swap(figure(seat, s.act), figure(other, s.act));
    } else if (s.slip == Slip::row) {
        // Readings of the whole row one line too low on the list.
        const double last = typed.seats.back().recession_read;
        for (std::size_t i = typed.seats.size(); i-- > 1;)
            typed.seats[i].recession_read = typed.seats[i - 1].recession_read;
        typed.seats.front().recession_read = last;
    } else if (cleanup) {
        seat.cleanup = mistyped(s.slip, seat.cleanup.value_or(0.1));
    } else {
        figure(seat, s.act) = mistyped(s.slip, figure(seat, s.act));
    }
}

void slip_in_touch(Work& work, Case& typed, const Slipped& s) {
    const std::string& id = typed.seats[s.seat].id;
    const double amount = s.amount, angle = 2 * std::acos(-1.0) * s.amount;
    const bool in_x = s.seed % 2 == 0;
    switch (s.slip) {
        case Slip::skipped:
            typed.seats[s.seat].touched = false;
            break;
        case Slip::rim:
            // The tip lies on the rim of the mouth instead of in the bore.
            work.touch_typed[id] = [amount, angle](P2 p) {
                const double off = 0.3 + 0.6 * amount;
                return P2{p.x + off * std::cos(angle), p.y + off * std::sin(angle)};
            };
            break;
        case Slip::valve:
            work.touch_typed[id] = [spacing = amount < 0.5 ? 44.0 : -44.0](P2 p) {
                return P2{p.x + spacing, p.y};
            };
            break;
        default:
            work.touch_typed[id] = [slip = s.slip, in_x](P2 p) {
                (in_x ? p.x : p.y) = mistyped(slip, in_x ? p.x : p.y);
                return p;
            };
    }
}

void slip_in_drawing(Case& typed, const Slipped& s) {
    Seat& seat = typed.seats[s.seat];
    double* figures[] = {&seat.at.x, &seat.at.y, &seat.at.z, &seat.incline};
    double& value = *figures[s.seed % 4];
    value = mistyped(s.slip, value);
}

// The head lies the other way round: where the list has one valve lies the one from the far end.
void reverse(Case& c) {
    const std::vector<Seat> was = c.seats;
    double low = was.front().at.x, high = low;
    for (const Seat& seat : was) low = std::min(low, seat.at.x), high = std::max(high, seat.at.x);
    for (Seat& seat : c.seats) {
        const P2 mirrored{low + high - seat.at.x, -seat.at.y};
        const auto nearest = std::min_element(was.begin(), was.end(), [&](const Seat& a, const Seat& b) {
            return length(P2{a.at.x, a.at.y} - mirrored) < length(P2{b.at.x, b.at.y} - mirrored);
        });
        Seat lies = *nearest;
        lies.id = seat.id, lies.cylinder = seat.cylinder;
        // Rows that do not lie in the middle come out beside where the drawing has them, all alike but for
        // what the readout's zero takes away.
        lies.at = {low + high - nearest->at.x, -nearest->at.y, nearest->at.z};
        lies.incline = -nearest->incline, lies.cant = -nearest->cant;
        lies.stray = {-nearest->stray.x, -nearest->stray.y};
        lies.touch_error = seat.touch_error;
        seat = lies;
    }
}

}  // namespace

const char* word(Act act) {
    const char* words[] = {"a recession", "a cleanup", "a bore", "a touch",     "the drawing",   "loading",
                           "the fixture", "the pilot", "Z0",     "the program", "the first seat"};
    return words[static_cast<std::size_t>(act)];
}

void draw_casting(Case& c, std::mt19937& random) {
    for (Seat& seat : c.seats) {
        seat.stray = {around(random, 0.03), around(random, 0.03)};
        seat.recession = between(random, 0.10, 0.40);
        seat.outside_wider = between(random, 0, 0.15), seat.inside_wider = between(random, 0, 0.15);
        seat.bore = between(random, 8.712, 8.715);
    }
}

void read_casting(Case& c, std::mt19937& random) {
    for (Seat& seat : c.seats) {
        seat.recession_read = whole(seat.recession + around(random, 0.01), 0.01);
        seat.bore_read = whole(seat.bore + around(random, 0.0005), 0.001);
        seat.touch_error = {around(random, 0.006), around(random, 0.006)};
        seat.cleanup = whole(between(random, 0.08, 0.20), 0.01);
    }
    c.seats.front().touch_error = {};
}

Slipped drawn_slip(std::mt19937& random, const Case& c, Act act, std::size_t seat) {
    const std::vector<Slip> of = fitting(act);
    Slipped s{of[random() % of.size()], act, seat, 0, between(random, 0, 1), static_cast<unsigned>(random())};
    s.other = (seat + 1 + random() % std::max<std::size_t>(1, c.seats.size() - 1)) % c.seats.size();
    return s;
}

void put_in(Work& work, const Slipped& s) {
    if (!work.typed) work.typed = work.c;
    const double side = s.seed % 2 == 0 ? 1 : -1;
    std::mt19937 random(s.seed);
    switch (s.act) {
        case Act::height:
        case Act::cleanup:
        case Act::bore:
            return slip_in_reading(*work.typed, s);
        case Act::touch:
            return slip_in_touch(work, *work.typed, s);
        case Act::drawing:
            return slip_in_drawing(*work.typed, s);
        case Act::load:
            return s.slip == Slip::head ? draw_casting(work.c, random) : reverse(work.c);
        case Act::post:
            // The next hole is some degrees on; the wrong row leans the other way.
            work.person.off.tilt = s.slip == Slip::post_hole ? side * radians(1 + 4 * s.amount)
                                                             : -2 * work.c.seats[s.seat].incline;
            return;
        case Act::pilot:
            // One size up or down: it seats so much higher or lower in every guide.
            for (Seat& seat : work.c.seats) seat.bore += side * (s.amount < 0.5 ? 0.005 : 0.01);
            return;
        case Act::zero:
            // Both cutters' Z0 then, on one seat: the blade rests on whatever is there.
            if (s.slip == Slip::valve)
                work.person.zero_on_instead = work.c.seats[s.seat].id;
            else
                work.person.zero_error += side * (s.amount < 0.7 ? s.amount : 10 * s.amount);
            return;
        case Act::first:
            work.first_typed = [slip = s.slip](double mm) { return mistyped(slip, mm); };
            return;
        case Act::program:
            return;
    }
}

}  // namespace seatwright::sim
