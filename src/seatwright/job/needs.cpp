#include "seatwright/job/needs.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "seatwright/job/key_tree.hpp"
#include "seatwright/job/kind_word.hpp"

namespace seatwright::job {
namespace {

constexpr std::array<std::string_view, 5> stage_names{"hold", "find", "shape", "cut", "prove"};

class Asker {
  public:
    explicit Asker(const Job& job) : job_(job) {}

    void missing(const std::string& table, const std::string& key, const std::string& why) {
        faults_.push_back(
            {job_.file, line_of(table), key.empty() ? table : table + "." + key, "is missing; " + why});
    }
    void wrong(const std::string& key, std::string text) {
        faults_.push_back({job_.file, line_of(key), key, std::move(text)});
    }
    const Faults& faults() const { return faults_; }
    void add(Fault fault) { faults_.push_back(std::move(fault)); }
    Faults take() { return std::move(faults_); }

  private:
    // Line of the key, of the nearest table above it if the key is not there, else the first.
    int line_of(std::string key) const {
        while (true) {
            if (const auto at = job_.lines.find(key); at != job_.lines.end()) return at->second;
            const auto dot = key.rfind('.');
            if (dot == std::string::npos) return 1;
            key.resize(dot);
        }
    }

    const Job& job_;
    Faults faults_;
};

bool has_kind(const Job& job, Kind kind) {
    return std::any_of(job.head.valves.begin(), job.head.valves.end(),
                       [&](const Valve& v) { return v.kind == kind; });
}

void ask_shape(const Job& job, Kind kind, Asker& ask) {
    const std::string valve = std::string("valve.") + kind_word(kind),
                      seat = std::string("seat.") + kind_word(kind);
    if (!job.valve[kind]) ask.missing(valve, "", "wanted to shape a seat: the valve's head_diameter");
    if (!job.seat[kind]) {
        ask.missing(seat, "", "wanted to shape a seat: angle, width, and inset or contact_diameter");
        return;
    }
    const SeatForm& form = *job.seat[kind];
    if (!(form.angle > 0)) ask.missing(seat, "angle", "wanted to shape a seat: the angle of its face");
    if (!(form.width > 0)) ask.missing(seat, "width", "wanted to shape a seat: its width along the cone");
    if (!form.inset && !form.contact_diameter)
        ask.missing(seat, "inset", "wanted to shape a seat: inset or contact_diameter");
}

std::string unknown_material(const Job& job, const std::string& name) {
    std::vector<std::string_view> names;
    std::string shelf;
    for (const auto& m : job.materials) {
        names.push_back(m.name);
        shelf += (shelf.empty() ? "\"" : ", \"") + m.name + "\"";
    }
    const std::string meant = nearest_name(name, names);
    return fmt::format("\"{}\" is not on the shelf{}; there: {}", name,
                       meant.empty() ? "" : fmt::format(", did you mean \"{}\"?", meant),
                       shelf.empty() ? "none" : shelf);
}

void ask_cut(const Job& job, Kind kind, Asker& ask) {
    const std::string seat = std::string("seat.") + kind_word(kind);
    const std::string& name = cut_material(job, kind);
    if (name.empty()) {
        ask.missing(seat, "material", "wanted to cut: the name of a [[material]], here or as head.material");
        return;
    }
    const bool of_seat = job.seat[kind] && !job.seat[kind]->material.empty();
    const std::string blame = of_seat ? seat + ".material" : "head.material";
    const Material* material = job.material(name);
    if (!material) {
        ask.wrong(blame, unknown_material(job, name));
        return;
    }
    std::string gaps;
    const auto gap = [&](bool there, const char* key) {
        if (!there) gaps += (gaps.empty() ? "" : ", ") + std::string(key);
    };
    gap(material->speed.has_value(), "speed");
    gap(material->feed.has_value(), "feed");
    gap(material->kc11.has_value(), "kc11");
    gap(material->mc.has_value(), "mc");
    if (!gaps.empty()) ask.wrong(blame, fmt::format("\"{}\" lacks what cutting it needs: {}", name, gaps));
}

}  // namespace

const std::string& cut_material(const Job& job, Kind kind) {
    return job.seat[kind] && !job.seat[kind]->material.empty() ? job.seat[kind]->material : job.head.material;
}

std::string_view name_of(Stage stage) {
    return stage_names[static_cast<std::size_t>(stage)];
}

Stage stage_named(std::string_view name) {
    const auto at = std::find(stage_names.begin(), stage_names.end(), name);
    require(at != stage_names.end(), "a stage is named by one of its five words");
    return static_cast<Stage>(at - stage_names.begin());
}

Faults not_on_shelf(const Job& job) {
    Asker ask(job);
    if (job.materials.empty()) return {};
    const auto check = [&](const std::string& key, const std::string& name) {
        if (!name.empty() && !job.material(name)) ask.wrong(key, unknown_material(job, name));
    };
    check("head.material", job.head.material);
    for (const Kind kind : both_kinds) {
        if (!job.seat[kind]) continue;
        check(std::string("seat.") + kind_word(kind) + ".material", job.seat[kind]->material);
        if (job.seat[kind]->insert)
            check(std::string("seat.") + kind_word(kind) + ".insert.material",
                  job.seat[kind]->insert->material);
    }
    return ask.take();
}

Faults needs(const Job& job, Stage stage) {
    Asker ask(job);
    if (stage == Stage::hold && job.fixtures.empty())
        ask.missing("fixture", "", "wanted to hold the head: tilt, swing and plumb_limit of a fixture");
    if (stage == Stage::shape || stage == Stage::cut)
        for (const Kind kind : both_kinds) {
            if (!has_kind(job, kind)) continue;
            if (stage == Stage::shape) ask_shape(job, kind, ask);
            if (stage == Stage::cut) ask_cut(job, kind, ask);
        }
    if (stage == Stage::cut)
        for (auto& fault : not_on_shelf(job)) {
            const auto same = [&](const Fault& f) { return f.key == fault.key; };
            if (std::none_of(ask.faults().begin(), ask.faults().end(), same)) ask.add(std::move(fault));
        }
    if (stage == Stage::cut && !job.machine.rpm_max)
        ask.missing("machine", "rpm_max", "wanted to choose a spindle speed: the machine's fastest");
    Faults faults = ask.take();
    // One material may serve both kinds: say what it lacks once.
    const auto same = [](const Fault& a, const Fault& b) { return a.key == b.key && a.text == b.text; };
    faults.erase(std::unique(faults.begin(), faults.end(), same), faults.end());
    return faults;
}

}  // namespace seatwright::job
