#include "seatwright/job/needs.hpp"

#include <algorithm>
#include <array>

#include "seatwright/job/key_tree.hpp"
#include "seatwright/job/kind_word.hpp"
#include "seatwright/words/english_job.hpp"
#include "seatwright/words/in_words.hpp"

namespace seatwright::job {
namespace {

constexpr std::array<std::string_view, 5> stage_names{"hold", "find", "shape", "cut", "prove"};

// A figure that is lacking, or a name that is not on the shelf.
struct Lack {
    std::string key;
    int line = 0;
    Sentence what;
    friend bool operator==(const Lack& a, const Lack& b) { return a.key == b.key && a.what == b.what; }
};

class Asker {
  public:
    explicit Asker(const Job& job) : job_(job) {}

    void missing(const std::string& table, const std::string& key, Sentence why) {
        lacks_.push_back({key.empty() ? table : table + "." + key, line_of(table), std::move(why)});
    }
    void wrong(const std::string& key, Sentence what) {
        lacks_.push_back({key, line_of(key), std::move(what)});
    }
    bool said(const std::string& key) const {
        return std::any_of(lacks_.begin(), lacks_.end(), [&](const Lack& one) { return one.key == key; });
    }
    std::vector<Lack> take() { return std::move(lacks_); }

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
    std::vector<Lack> lacks_;
};

Faults as_faults(const Job& job, const std::vector<Lack>& lacks) {
    Faults out;
    for (const Lack& lack : lacks)
        out.push_back({job.file, lack.line, lack.key, in_words(lack.what, Speech{job.units})});
    return out;
}

bool has_kind(const Job& job, Kind kind) {
    return std::any_of(job.head.valves.begin(), job.head.valves.end(),
                       [&](const Valve& v) { return v.kind == kind; });
}

void ask_shape(const Job& job, Kind kind, Asker& ask) {
    const std::string valve = std::string("valve.") + kind_word(kind),
                      seat = std::string("seat.") + kind_word(kind);
    if (!job.valve[kind]) ask.missing(valve, "", sentence<"needs-valve">());
    if (!job.seat[kind]) {
        ask.missing(seat, "", sentence<"needs-form">());
        return;
    }
    const SeatForm& form = *job.seat[kind];
    if (!(form.angle > 0)) ask.missing(seat, "angle", sentence<"needs-angle">());
    if (!(form.width > 0)) ask.missing(seat, "width", sentence<"needs-width">());
    if (!form.inset && !form.contact_diameter) ask.missing(seat, "inset", sentence<"needs-inset">());
}

Sentence unknown_material(const Job& job, const std::string& name) {
    std::vector<std::string_view> names;
    List shelf{Join::commas, {}};
    for (const auto& m : job.materials) {
        names.push_back(m.name);
        shelf.items.emplace_back("\"" + m.name + "\"");
    }
    if (names.empty()) return sentence<"not-on-empty-shelf">("name"_is = name);
    const std::string meant = nearest_name(name, names);
    if (meant.empty()) return sentence<"not-on-shelf">("name"_is = name, "shelf"_is = std::move(shelf));
    return sentence<"not-on-shelf-meant">("name"_is = name, "meant"_is = meant,
                                          "shelf"_is = std::move(shelf));
}

void ask_cut(const Job& job, Kind kind, Asker& ask) {
    const std::string seat = std::string("seat.") + kind_word(kind);
    const std::string& name = cut_material(job, kind);
    if (name.empty()) {
        ask.missing(seat, "material", sentence<"needs-material">());
        return;
    }
    const bool of_seat = job.seat[kind] && !job.seat[kind]->material.empty();
    const std::string blame = of_seat ? seat + ".material" : "head.material";
    const Material* material = job.material(name);
    if (!material) {
        ask.wrong(blame, unknown_material(job, name));
        return;
    }
    List gaps{Join::commas, {}};
    const auto gap = [&](bool there, const char* key) {
        if (!there) gaps.items.emplace_back(key);
    };
    gap(material->speed.has_value(), "speed");
    gap(material->feed.has_value(), "feed");
    gap(material->kc11.has_value(), "kc11");
    gap(material->mc.has_value(), "mc");
    if (!gaps.items.empty())
        ask.wrong(blame, sentence<"material-lacks">("name"_is = name, "gaps"_is = std::move(gaps)));
}

void ask_shelf(const Job& job, Asker& ask) {
    if (job.materials.empty()) return;
    const auto check = [&](const std::string& key, const std::string& name) {
        if (!name.empty() && !job.material(name) && !ask.said(key))
            ask.wrong(key, unknown_material(job, name));
    };
    check("head.material", job.head.material);
    for (const Kind kind : both_kinds) {
        if (!job.seat[kind]) continue;
        const std::string seat = std::string("seat.") + kind_word(kind);
        check(seat + ".material", job.seat[kind]->material);
        if (job.seat[kind]->insert) check(seat + ".insert.material", job.seat[kind]->insert->material);
    }
}

std::vector<Lack> lacks_of(const Job& job, Stage stage) {
    Asker ask(job);
    if (stage == Stage::hold && job.fixtures.empty()) ask.missing("fixture", "", sentence<"needs-fixture">());
    if (stage == Stage::shape || stage == Stage::cut)
        for (const Kind kind : both_kinds) {
            if (!has_kind(job, kind)) continue;
            if (stage == Stage::shape) ask_shape(job, kind, ask);
            if (stage == Stage::cut) ask_cut(job, kind, ask);
        }
    if (stage == Stage::cut) ask_shelf(job, ask);
    if (stage == Stage::cut && !job.machine.rpm_max)
        ask.missing("machine", "rpm_max", sentence<"needs-fastest">());
    std::vector<Lack> lacks = ask.take();
    // One material may serve both kinds: say what it lacks once.
    lacks.erase(std::unique(lacks.begin(), lacks.end()), lacks.end());
    return lacks;
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
    ask_shelf(job, ask);
    return as_faults(job, ask.take());
}

Faults needs(const Job& job, Stage stage) {
    return as_faults(job, lacks_of(job, stage));
}

std::vector<Sentence> needs_said(const Job& job, Stage stage) {
    std::vector<Sentence> out;
    for (Lack& lack : lacks_of(job, stage))
        out.push_back(
            sentence<"lacks">("key"_is = seatwright::Key{lack.key}, "what"_is = std::move(lack.what)));
    return out;
}

}  // namespace seatwright::job
