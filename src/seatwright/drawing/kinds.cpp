// Which valves are intakes, what the groups are called, and what layers' names hint at.
#include <algorithm>
#include <cctype>
#include <filesystem>
#include <set>

#include "seatwright/drawing/told.hpp"
#include "seatwright/job/kind_word.hpp"

namespace seatwright::drawing {
namespace {

std::string hint_of(const std::string& layer) {
    std::string lower = layer;
    std::transform(lower.begin(), lower.end(), lower.begin(),
                   [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    constexpr std::pair<const char*, const char*> words[] = {
        {"intake", "intake"}, {"inlet", "intake"}, {"exhaust", "exhaust"}, {"bolt", "bolt"},
        {"stud", "bolt"},     {"screw", "bolt"},   {"plug", "plug"},       {"injector", "plug"},
        {"valve", "valve"},   {"seat", "valve"},   {"guide", "valve"}};
    for (const auto& [word, what] : words)
        if (lower.find(word) != std::string::npos) return what;
    return {};
}

// What several hints come to; a seat on layer "intake" on a guide on layer "guides" is an intake valve.
std::string one_of(std::set<std::string> hints) {
    hints.erase("");
    if (hints.size() > 1) hints.erase("valve");
    return hints.size() == 1 ? *hints.begin() : std::string();
}

std::string hint_of(const Mark& mark) {
    std::set<std::string> all;
    for (const auto& ring : mark.rings) all.insert(hint_of(ring.layer));
    return one_of(std::move(all));
}

// Seats by size: of each size its marks, small to large.
std::vector<std::vector<std::size_t>> by_size(const Marks& marks, const Layout& layout) {
    std::vector<std::size_t> all;
    for (const auto& c : layout.cylinders) all.insert(all.end(), c.valves.begin(), c.valves.end());
    std::sort(all.begin(), all.end(), [&](std::size_t a, std::size_t b) {
        return marks.marks[a].largest() < marks.marks[b].largest();
    });
    std::vector<std::vector<std::size_t>> out;
    constexpr double apart = 0.012;
    for (const auto m : all) {
        if (out.empty() || marks.marks[m].largest() > (1 + apart) * marks.marks[out.back().back()].largest())
            out.emplace_back();
        out.back().push_back(m);
    }
    return out;
}

}  // namespace

std::string group_name(std::size_t group) {
    std::string out(1, static_cast<char>('A' + group % 26));
    for (group /= 26; group > 0; group = (group - 1) / 26)
        out.insert(out.begin(), static_cast<char>('A' + (group - 1) % 26));
    return out;
}

void sort_groups(Marks& marks) {
    struct One {
        std::size_t group = 0, count = 0;
        double size = 0;
    };
    std::vector<One> groups(marks.groups);
    for (std::size_t g = 0; g < groups.size(); ++g) groups[g].group = g;
    for (const auto& mark : marks.marks) {
        ++groups[mark.group].count;
        groups[mark.group].size = std::max(groups[mark.group].size, mark.largest());
    }
    std::stable_sort(groups.begin(), groups.end(), [](const One& a, const One& b) {
        return a.count != b.count ? a.count > b.count : a.size > b.size;
    });
    std::vector<std::size_t> now(groups.size());
    for (std::size_t i = 0; i < groups.size(); ++i) now[groups[i].group] = i;
    for (auto& mark : marks.marks) mark.group = now[mark.group];
}

std::vector<std::string> hints_of(const Marks& marks) {
    std::vector<std::set<std::string>> all(marks.groups);
    for (const auto& mark : marks.marks)
        for (const auto& ring : mark.rings) all[mark.group].insert(hint_of(ring.layer));
    std::vector<std::string> out;
    out.reserve(all.size());
    for (auto& hints : all) out.push_back(one_of(std::move(hints)));
    return out;
}

Kinds kinds_of(const Marks& marks, const Layout& layout, const std::vector<std::string>& names) {
    Kinds out;
    const auto sizes = by_size(marks, layout);
    std::size_t most = 0;
    for (std::size_t i = 0; i < sizes.size(); ++i)
        if (sizes[i].size() > sizes[most].size()) most = i;
    std::vector<std::optional<job::Kind>> by(sizes.size());
    if (sizes.size() > 1) {
        // Of equally many the larger; else what there are more of.
        const bool equal = sizes.size() > 2 || sizes[0].size() == sizes[1].size();
        const std::size_t intakes = equal ? sizes.size() - 1 : most;
        for (std::size_t i = 0; i < sizes.size(); ++i) {
            const double mid =
                (marks.marks[sizes.front().front()].largest() + marks.marks[sizes.back().front()].largest()) /
                2;
            const bool large = marks.marks[sizes[i].front()].largest() > mid;
            by[i] = (sizes.size() == 2 ? i == intakes : large) ? job::Kind::intake : job::Kind::exhaust;
        }
        out.by = sizes.size() == 2 && !equal ? Kinds::By::number : Kinds::By::size;
    }
    for (std::size_t i = 0; i < sizes.size(); ++i)
        for (const auto m : sizes[i]) {
            const auto g = marks.marks[m].group;
            const auto word = [&](const std::string& w) -> std::optional<job::Kind> {
                for (const auto kind : job::both_kinds)
                    if (w == job::kind_word(kind)) return kind;
                return std::nullopt;
            };
            auto kind = by[i];
            if (const auto hinted = word(hint_of(marks.marks[m]))) {
                if (!kind) out.named = true;
                if (kind && kind != hinted) out.against = true;
                if (!kind) kind = hinted;
            }
            if (const auto named = word(names[g])) {
                kind = named;
                out.named = true;
            }
            out.of[m] = kind;
        }
    return out;
}

void name_valves(std::vector<Valve>& valves) {
    for (std::size_t i = 0; i < valves.size();) {
        std::size_t end = i;
        while (end < valves.size() && valves[end].cylinder == valves[i].cylinder) ++end;
        double low = 1e300, high = -1e300;
        for (std::size_t k = i; k < end; ++k) {
            low = std::min(low, *valves[k].y.value);
            high = std::max(high, *valves[k].y.value);
        }
        constexpr double two_rows = 5;
        std::array<std::vector<std::size_t>, 2> of;
        for (std::size_t k = i; k < end; ++k) {
            const bool intake = valves[k].kind          ? *valves[k].kind == job::Kind::intake
                                : high - low > two_rows ? *valves[k].y.value > (low + high) / 2
                                                        : (k - i) % 2 == 0;
            of[intake ? 0 : 1].push_back(k);
        }
        for (std::size_t kind = 0; kind < 2; ++kind)
            for (std::size_t n = 0; n < of[kind].size(); ++n) {
                auto& id = valves[of[kind][n]].id;
                id = std::to_string(valves[i].cylinder) + (kind == 0 ? "I" : "E");
                if (of[kind].size() > 1) id += static_cast<char>('a' + n);
            }
        i = end;
    }
}

std::string title_of(const std::string& file) {
    auto out = std::filesystem::path(file).stem().string();
    return out.empty() ? "a head out of a drawing" : out;
}

}  // namespace seatwright::drawing
