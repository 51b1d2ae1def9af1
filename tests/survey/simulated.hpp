// A shop of its own: heads of every kind the trade knows, held and read at a machine, written as a readings
// file. The forward model is written from the frames and signs of the names page with plain sines and
// cosines; nothing of the solver's is called.
#pragma once

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <map>
#include <optional>
#include <random>
#include <stdexcept>
#include <string>
#include <vector>

namespace seatwright::survey::simulated {

using Point3 = std::array<double, 3>;

inline constexpr double degree = 3.14159265358979323846 / 180;

struct Guide {
    std::string id;
    Point3 at{};                   // gauge circle's centre, head frame
    double incline = 0, cant = 0;  // deg
    int direction = 0;             // guides of one number are read in one setup
};

struct Head {
    std::string kind;
    std::vector<Guide> guides;
    std::vector<std::array<double, 2>> holes;
    double hole_radius = 6.75;
};

struct Attitude {
    double tilt = 0, swing = 0, yaw = 0;  // deg
    Point3 shift{};
};

struct Sds {
    double point = 0.02, sensor = 0.02;  // mm, deg
    double hole = 0;                     // of the ball on a hole's rim; 0: as other places
    double casting = 0.1, lean = 0.05;   // of the head about its drawing
    double tilt_set = 0.05, yaw = 0.1;   // how well a setup is set
    double zero = 0.3;                   // of the sensor
};

// First by swing about the cradle's own Y, then by tilt about X, then by the yaw of the cradle on the table.
inline Point3 turned(const Attitude& a, const Point3& p) {
    const double s = a.swing * degree, t = a.tilt * degree, y = a.yaw * degree;
    const Point3 q{p[0] * std::cos(s) + p[2] * std::sin(s), p[1], -p[0] * std::sin(s) + p[2] * std::cos(s)};
    const Point3 r{q[0], q[1] * std::cos(t) - q[2] * std::sin(t), q[1] * std::sin(t) + q[2] * std::cos(t)};
    return {r[0] * std::cos(y) - r[1] * std::sin(y), r[0] * std::sin(y) + r[1] * std::cos(y), r[2]};
}

inline Point3 on_table(const Attitude& a, const Point3& p) {
    const Point3 r = turned(a, p);
    return {r[0] + a.shift[0], r[1] + a.shift[1], r[2] + a.shift[2]};
}

inline Point3 axis(const Guide& g) {
    const double x = std::tan(g.cant * degree), y = std::tan(g.incline * degree);
    const double n = std::sqrt(x * x + y * y + 1);
    return {x / n, y / n, 1 / n};
}

inline Point3 along(const Point3& p, const Point3& d, double by) {
    return {p[0] + by * d[0], p[1] + by * d[1], p[2] + by * d[2]};
}

// Guides of one cylinder, as the layouts of the trade have them; x about the cylinder's centre.
struct Layout {
    const char* kind;
    std::vector<Guide> cylinder;
    bool mirrored = false;
    double spacing = 110;
    int cylinders = 4;
};

inline const std::vector<Layout>& layouts() {
    static const std::vector<Layout> all{
        {"parallel, two valves", {{"I", {-24, 0, -3}, 0, 0, 0}, {"E", {24, 0, -3}, 0, 0, 0}}, true, 120, 6},
        {"parallel, four valves",
         {{"Ia", {-19, 18, -2}, 0, 0, 0},
          {"Ib", {19, 18, -2}, 0, 0, 0},
          {"Ea", {-19, -18, -2}, 0, 0, 0},
          {"Eb", {19, -18, -2}, 0, 0, 0}},
         false,
         135,
         4},
        {"bathtub", {{"I", {-22, 4, -8}, 12, 0, 0}, {"E", {22, 4, -8}, 12, 0, 0}}, false, 95, 4},
        {"wedge", {{"E", {-25, 6, -9}, 19.5, 0, 0}, {"I", {25, 6, -9}, 19.5, 0, 0}}, true, 111.8, 4},
        {"canted", {{"I", {-24.5, 9, -12}, 22, 4, 0}, {"E", {24.5, -8, -10}, 15, -3.5, 1}}, true, 118, 4},
        {"hemispherical", {{"I", {4, 26, -14}, -31, 0, 0}, {"E", {-4, -26, -14}, 33, 0, 1}}, false, 104, 4},
        {"pent-roof",
         {{"Ia", {-18, 17, -7}, -14, 0, 0},
          {"Ib", {18, 17, -7}, -14, 0, 0},
          {"Ea", {-16, -18, -7}, 16, 0, 1},
          {"Eb", {16, -18, -7}, 16, 0, 1}},
         false,
         94,
         4},
        {"pent-roof, five valves",
         {{"Ia", {-20, 14, -7}, -15, 0, 0},
          {"Ib", {0, 22, -7}, -19, 0, 2},
          {"Ic", {20, 14, -7}, -15, 0, 0},
          {"Ea", {-15, -18, -7}, 14, 0, 1},
          {"Eb", {15, -18, -7}, 14, 0, 1}},
         false,
         88,
         3},
        {"radial, one cylinder",
         {{"Ia", {-18, 17, -7}, -12, 8, 0},
          {"Ib", {18, 17, -7}, -12, -8, 1},
          {"Ea", {-17, -17, -7}, 13, 9, 2},
          {"Eb", {17, -17, -7}, 13, -9, 3}},
         false,
         100,
         1},
    };
    return all;
}

// The one of that kind; throws std::runtime_error where there is none.
inline const Layout& layout(const std::string& kind) {
    for (const Layout& each : layouts())
        if (kind == each.kind) return each;
    throw std::runtime_error(kind);
}

using Random = std::mt19937_64;

class Normal {
  public:
    explicit Normal(std::uint64_t seed) : random_(seed) {}
    double operator()(double sd) { return sd * normal_(random_); }
    std::size_t below(std::size_t n) { return static_cast<std::size_t>(random_() % n); }

  private:
    Random random_;
    std::normal_distribution<double> normal_;
};

// A casting of that layout: guides stray from the drawing, holes do not.
inline Head head_of(const Layout& layout, const Sds& sds, Normal& normal) {
    Head out;
    out.kind = layout.kind;
    for (int k = 1; k <= layout.cylinders; ++k)
        for (const auto& g : layout.cylinder) {
            const double side = layout.mirrored && k % 2 == 0 ? -1 : 1;
            Guide guide = g;
            guide.id = std::to_string(k) + g.id;
            guide.at = {(k - 1) * layout.spacing + side * g.at[0] + normal(sds.casting),
                        g.at[1] + normal(sds.casting), g.at[2] + normal(sds.casting)};
            guide.incline += normal(sds.lean);
            guide.cant = side * g.cant + normal(sds.lean);
            // Canted the other way a guide needs a swing of its own.
            if (layout.mirrored && k % 2 == 0 && std::abs(g.cant) > 1) guide.direction += 100;
            out.guides.push_back(guide);
        }
    for (const double y : {-48.0, 48.0})
        for (int k = 0; k <= layout.cylinders; ++k) out.holes.push_back({(k - 0.5) * layout.spacing, y});
    return out;
}

// What is read, and how well; the parts a test leaves out.
struct Procedure {
    bool sensor_on_deck = true, sensor_in_guides = true, deck_places = true, holes_in_level = true;
    bool sensor_on_deck_along = true;  // as well as across
    bool hole_heights = true;
    int holes_a_setup = 2;
    int deck_places_a_setup = 1;
    bool seat_heights = true, tilts = true;
    bool turn_round = true;
    bool one_sd = true;  // written once, not in every line
    std::string zero = "table";
    std::string top;  // more keys of the file's beginning
};

struct Read {
    std::string text;
    std::map<std::string, Attitude> setups;
    double zero = 0;
    std::map<std::string, std::string> setup_of;  // of each guide
};

class Machine {
  public:
    Machine(const Head& head, const Sds& sds, Normal& normal) : head_(head), sds_(sds), normal_(normal) {}

    // Every line passes through here before it is written: a test spoils one.
    std::function<void(const std::string& line, std::map<std::string, double>& figures)> spoil;
    std::optional<Attitude> clamped_once;  // the turning axes are those of this place (shift) in the head

    Read read(const Procedure& how) {
        out_ = {};
        zero_ = normal_(sds_.zero);
        out_.zero = zero_;
        out_.text = fmt::format(
            "# invented readings\ntitle = \"{}\"\nunits = \"mm\"\n{}[sensor]\nzero = \"{}\"\nsd = \"{} "
            "deg\"\n",
            head_.kind, how.top, how.zero, sds_.sensor);
        level(how);
        std::map<int, std::vector<const Guide*>> directions;
        for (const auto& g : head_.guides) directions[g.direction].push_back(&g);
        char name = 'A';
        for (const auto& [direction, guides] : directions)
            direction_setup(std::string(1, name++), guides, how);
        return out_;
    }

  private:
    Attitude placed(double tilt, double swing, double tilt_sd) {
        Attitude a{tilt + normal_(tilt_sd), swing + normal_(tilt_sd), normal_(sds_.yaw), {}};
        a.shift = {normal_(40), normal_(40), normal_(40)};
        if (clamped_once) {
            // Axes through one place of the head: that place stays where it is.
            a.yaw = clamped_once->yaw;
            const Point3 r = turned(a, clamped_once->shift);
            a.shift = {-r[0], -r[1], -r[2]};
        }
        return a;
    }

    void line(const std::string& head, std::map<std::string, double> figures) {
        if (spoil) spoil(head, figures);
        out_.text += head;
        for (const auto& [key, value] : figures) out_.text += fmt::format("{} = {:.6f}\n", key, value);
    }

    void point(const std::string& setup, const Attitude& a, const std::string& what, const std::string& id,
               const Point3& r, const std::string& axes, const Procedure& how, const std::string& more = {}) {
        const double sd = what == "hole" && sds_.hole > 0 ? sds_.hole : sds_.point;
        std::string text =
            fmt::format("[[point]]\nsetup = \"{}\"\nwhat = \"{}\"\nsd = {}\n{}", setup, what, sd, more);
        if (!id.empty()) text += fmt::format("id = \"{}\"\n", id);
        std::map<std::string, double> figures;
        if (how.tilts) {
            if (tilt_read_.count(setup) == 0)
                tilt_read_[setup] = {a.tilt + zero_ + normal_(sds_.sensor),
                                     a.swing + zero_ + normal_(sds_.sensor)};
            figures["tilt"] = tilt_read_[setup].first;
            figures["swing"] = tilt_read_[setup].second;
        }
        for (std::size_t k = 0; k < 3; ++k)
            if (axes.find("xyz"[k]) != std::string::npos)
                figures[std::string(1, "xyz"[k])] = r[k] + normal_(sd);
        line(text, figures);
    }

    void hole(const std::string& setup, const Attitude& a, std::size_t h, const Procedure& how) {
        constexpr double ball = 10;
        const double over = std::sqrt(ball * ball - head_.hole_radius * head_.hole_radius);
        const Point3 centre{head_.holes[h][0], head_.holes[h][1], over};
        point(setup, a, "hole", fmt::format("H{}", h), on_table(a, centre), how.hole_heights ? "xyz" : "xy",
              how, fmt::format("ball = {}\ndiameter = {}\n", ball, 2 * head_.hole_radius));
    }

    void deck(const std::string& setup, const Attitude& a, double x, double y, const Procedure& how) {
        constexpr double ball = 3;
        point(setup, a, "deck", "", on_table(a, {x, y, ball}), "xyz", how, fmt::format("ball = {}\n", ball));
    }

    // The sensor sees the lean in the machine's Y-Z or X-Z view.
    void lean(const std::string& setup, const Attitude& a, const std::string& what, const std::string& id,
              const Point3& direction, const Procedure& how) {
        const Point3 m = turned(a, direction);
        for (const bool incline : {true, false}) {
            if (what == "deck" && !incline && !how.sensor_on_deck_along) continue;
            const double view = std::atan2(m[incline ? 1 : 0], m[2]) / degree;
            std::map<std::string, double> figures{{"first", view + zero_ + normal_(sds_.sensor)}};
            if (how.turn_round) figures["second"] = -view + zero_ + normal_(sds_.sensor);
            line(
                fmt::format("[[level]]\nsetup = \"{}\"\nwhat = \"{}\"\n{}across = \"{}\"\n", setup, what,
                            id.empty() ? "" : fmt::format("id = \"{}\"\n", id), incline ? "incline" : "cant"),
                figures);
        }
    }

    void level(const Procedure& how) {
        const Attitude a = placed(0, 0, 0.1);
        out_.setups["L"] = a;
        if (how.sensor_on_deck) lean("L", a, "deck", "", {0, 0, 1}, how);
        const double far = head_.holes[head_.holes.size() / 2 - 1][0];
        if (how.deck_places) {
            deck("L", a, head_.holes[0][0] + 10, -30, how);
            deck("L", a, far - 10, -30, how);
            deck("L", a, far / 2, 30, how);
        }
        if (how.holes_in_level)
            for (int h = 0; h < how.holes_a_setup; ++h) hole("L", a, row(h), how);
        if (how.sensor_in_guides)
            for (const auto& g : head_.guides) lean("L", a, "guide", g.id, axis(g), how);
    }

    // The two ends of the first row, then those of the other.
    std::size_t row(int h) const {
        const std::size_t n = head_.holes.size() / 2;
        const std::size_t ends[] = {0, n - 1, n, 2 * n - 1};
        return ends[static_cast<std::size_t>(h)];
    }

    void direction_setup(const std::string& name, const std::vector<const Guide*>& guides,
                         const Procedure& how) {
        Point3 mean{};
        for (const auto* g : guides)
            for (std::size_t k = 0; k < 3; ++k) mean[k] += axis(*g)[k];
        const double swing = -std::atan2(mean[0], mean[2]) / degree,
                     tilt = std::atan2(mean[1], std::hypot(mean[0], mean[2])) / degree;
        const Attitude a = placed(tilt, swing, sds_.tilt_set);
        out_.setups[name] = a;
        for (int h = 0; h < how.holes_a_setup; ++h) hole(name, a, row(h), how);
        const double far = head_.holes[head_.holes.size() / 2 - 1][0];
        const std::array<std::array<double, 2>, 3> places{{{far / 2, 30}, {10, -30}, {far - 10, -30}}};
        for (int i = 0; i < how.deck_places_a_setup; ++i)
            deck(name, a, places[static_cast<std::size_t>(i)][0], places[static_cast<std::size_t>(i)][1],
                 how);
        for (const auto* g : guides) {
            out_.setup_of[g->id] = name;
            point(name, a, "guide", g->id, on_table(a, g->at), "xy", how);
            constexpr double head_height = 2.4;
            if (how.seat_heights)
                point(name, a, "valve head", g->id, on_table(a, along(g->at, axis(*g), head_height)), "z",
                      how, fmt::format("head_height = {}\n", head_height));
        }
    }

    const Head& head_;
    const Sds& sds_;
    Normal& normal_;
    double zero_ = 0;
    std::map<std::string, std::pair<double, double>> tilt_read_;
    Read out_;
};

// The truth in the frame a survey tells it in: about the origin the guides of the first cylinder of which any
// is known, each axis by those of which it is known (`known(id, axis)`).
inline Head in_survey_frame(Head head, const std::function<bool(const std::string&, std::size_t)>& known) {
    for (std::size_t axis = 0; axis < 2; ++axis) {
        double sum = 0, n = 0;
        char first = '9' + 1;
        for (const auto& g : head.guides)
            if (known(g.id, axis)) first = std::min(first, g.id[0]);
        for (const auto& g : head.guides)
            if (g.id[0] == first && known(g.id, axis)) {
                sum += g.at[axis];
                ++n;
            }
        if (n == 0) continue;
        for (auto& g : head.guides) g.at[axis] -= sum / n;
        for (auto& h : head.holes) h[axis] -= sum / n;
    }
    return head;
}

}  // namespace seatwright::survey::simulated
