#include "variations.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <set>

#include "seatwright/job/editor.hpp"
#include "seatwright/job/reader.hpp"
#include "seatwright/job/writer.hpp"

namespace seatwright::plan::test {

namespace {

using job::Value;
using job::ValueType;

// "seat.*.top[].angle" at every place it may have: "seat.intake.top[0].angle", …; of a shelf also as the one
// table it may be.
std::vector<std::string> places_of(const job::Key& key) {
    std::vector<std::string> out{std::string(key.path)};
    const auto each = [&](std::string_view from, const std::vector<std::string>& to) {
        std::vector<std::string> next;
        for (const std::string& path : out) {
            const auto at = path.find(from);
            if (at == std::string::npos) {
                next.push_back(path);
                continue;
            }
            for (const std::string& with : to)
                next.push_back(path.substr(0, at) + with + path.substr(at + from.size()));
        }
        out = std::move(next);
    };
    each("*", {"intake", "exhaust"});
    for (int depth = 0; depth < 3; ++depth) each("[]", {"[0]", "[1]", "[2]"});
    for (const std::string table : {"machine.", "fixture.", "dialect."})
        if (key.path.starts_with(table))
            for (int i = 0; i < 4; ++i)
                out.push_back(fmt::format("{}[{}].{}", table.substr(0, table.size() - 1), i,
                                          key.path.substr(table.size())));
    return out;
}

// The value at a path as the walked file has it; null if it has none.
const Value* entry_at(const Value& root, std::string_view path) {
    const Value* at = &root;
    while (at != nullptr && !path.empty()) {
        const auto end = path.find_first_of(".[]");
        const std::string_view part = path.substr(0, end);
        if (!part.empty() && part[0] >= '0' && part[0] <= '9') {
            const auto index = static_cast<std::size_t>(std::stoul(std::string(part)));
            at = index < at->items.size() ? &at->items[index] : nullptr;
        } else if (!part.empty()) {
            at = at->find(part);
        }
        path = end == std::string_view::npos ? std::string_view{} : path.substr(end + 1);
    }
    return at;
}

std::string bare(double memory, const job::Key& key, LengthUnit units) {
    return fmt::format("{:.9g}", job::to_bare(memory, key.dimension, units));
}

std::string scaled_list(const Value& list, const job::Key& key, LengthUnit units, double by) {
    std::string out;
    for (const Value& item : list.items)
        out += (out.empty() ? "" : ", ") + (item.holds == Value::Holds::list
                                                ? scaled_list(item, key, units, by)
                                                : bare(item.number * by, key, units));
    return "[" + out + "]";
}

std::vector<std::string> names_in(const job::Job& job) {
    std::vector<std::string> names{"varied"};
    for (const auto& valve : job.head.valves) names.push_back(valve.id);
    for (const auto& material : job.materials) names.push_back(material.name);
    for (const auto& head : job.heads()) names.push_back(head);
    for (const char* other : {"another head", "guide 1I", "M66", "M30", "M06", "G53 G0 Z1", "2026-05-31"})
        names.emplace_back(other);
    return names;
}

// Values to try, as TOML has them; what stands there now may be among them.
std::vector<std::string> literals_for(const job::Key& key, const Value* now, const job::Job& job) {
    constexpr double factors[] = {1.1, 25.4, 0.9, 1.01, 1 / 25.4};
    std::vector<std::string> out;
    const auto words = [&](std::string_view all) {
        for (std::size_t at = 0; at < all.size();) {
            const auto end = std::min(all.find('|', at), all.size());
            out.push_back(job::toml_string(all.substr(at, end - at)));
            at = end + 1;
        }
    };
    switch (key.type) {
        case ValueType::quantity:
            if (now != nullptr && now->holds == Value::Holds::number)
                for (const double by : factors) out.push_back(bare(now->number * by, key, job.units));
            for (const double value : {0.02, 0.3, 1.0, 5.0, 0.5, 10.0, 25.0, 45.0, 60.0, 300.0, -1.0})
                out.push_back(fmt::format("{}", value));
            break;
        case ValueType::integer:
            for (int value = 0; value < 7; ++value) out.push_back(fmt::format("{}", value - 1));
            break;
        case ValueType::flag:
            out = {"true", "false"};
            break;
        case ValueType::choice:
            words(key.choices);
            break;
        case ValueType::text:
        case ValueType::label:
            for (const auto& name : names_in(job)) out.push_back(job::toml_string(name));
            break;
        case ValueType::texts:
            out = {R"(["head.mass"])", R"(["head.mass = 2100 kg"])", R"(["varied"])", R"(["width"])"};
            break;
        case ValueType::range:
        case ValueType::quantities:
        case ValueType::point:
        case ValueType::points:
            if (now != nullptr)
                for (const double by : factors) out.push_back(scaled_list(*now, key, job.units, by));
            for (const char* value : {"[1, 2]", "[20, 60]", "[0.5]", "[[19, -1], [20, 0], [21, 1]]"})
                out.emplace_back(value);
            break;
        case ValueType::pair:
            out = {"[0, 1]", "[1, 2]", "[0, 3]"};
            break;
        case ValueType::table:
        case ValueType::tables:
        case ValueType::shelf:
            break;
    }
    return out;
}

Checked<job::Job> read(const Texts& texts) {
    return job::read_job(
        texts.job, "varied.toml",
        [&](const std::string&) -> tl::expected<std::string, std::string> { return texts.shop; });
}

}  // namespace

Varying::Varying(Texts texts) : texts_(std::move(texts)) {
    auto job = read(texts_);
    if (!job) throw std::logic_error(to_line(job.error().front()));
    base_ = std::move(*job);
    prints_ = prints_of(base_, {});
    job_ = job::walk_file(texts_.job, "varied.toml", job::FileKind::job, LengthUnit::mm);
    shop_ = job::walk_file(texts_.shop, "shop.toml", job::FileKind::shop, base_.units);
}

void Varying::vary(std::string Texts::*file, const Value& root, const job::Key& key, std::size_t most,
                   std::vector<Variation>& out) const {
    for (const std::string& place : places_of(key)) {
        const std::size_t enough = std::min(most, out.size() + 2);
        for (const auto& literal : literals_for(key, entry_at(root, place), base_)) {
            if (out.size() == enough) break;
            const auto edited = job::set_value(texts_.*file, place, literal);
            if (!edited) break;  // there is no such place
            Texts other = texts_;
            other.*file = *edited;
            auto job = read(other);
            if (!job || prints_of(*job, {}) == prints_) continue;
            out.push_back({fmt::format("{} = {}", place, literal), std::move(*job)});
        }
    }
}

std::vector<Variation> Varying::of(const job::Key& key, std::size_t most) const {
    std::vector<Variation> out;
    vary(&Texts::job, job_.root, key, most, out);
    vary(&Texts::shop, shop_.root, key, most, out);
    return out;
}

}  // namespace seatwright::plan::test
