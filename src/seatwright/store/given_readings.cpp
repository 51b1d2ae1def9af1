#include "seatwright/store/given_readings.hpp"

#include <fmt/format.h>

#include <cmath>
#include <map>

#include "seatwright/job/walker.hpp"
#include "seatwright/store/toml_json.hpp"

namespace seatwright::store {

namespace {

// A value of an entry as the table of keys reads it: what its literal in a file would say.
class Given {
  public:
    Given(std::string name, const Json& value, std::string_view unit, int line)
        : name_(std::move(name)), value_(&value), unit_(unit), line_(line) {}

    toml::Kind kind() const {
        if (value_->is_object()) return toml::Kind::table;
        if (value_->is_array()) return toml::Kind::list;
        if (value_->is_boolean()) return toml::Kind::flag;
        if (!value_->is_number() || !unit_.empty()) return toml::Kind::text;
        return is_whole() ? toml::Kind::integer : toml::Kind::number;
    }
    std::optional<std::string> text() const {
        if (kind() != toml::Kind::text) return std::nullopt;
        if (value_->is_number()) return fmt::format("{} {}", toml_literal(*value_), unit_);
        if (!value_->is_string()) return "";
        const auto text = value_->get<std::string>();
        return unit_.empty() || names_unit(text) ? text : fmt::format("{} {}", text, unit_);
    }
    std::optional<std::int64_t> integer() const {
        if (kind() != toml::Kind::integer) return std::nullopt;
        return value_->get<std::int64_t>();
    }
    std::optional<double> number() const {
        if (const auto whole = integer()) return static_cast<double>(*whole);
        if (kind() != toml::Kind::number) return std::nullopt;
        return value_->get<double>();
    }
    std::optional<bool> flag() const {
        if (!value_->is_boolean()) return std::nullopt;
        return value_->get<bool>();
    }
    std::vector<Given> items() const {
        std::vector<Given> out;
        if (!value_->is_structured()) return out;
        out.reserve(value_->size());
        for (const auto& [name, value] : value_->items()) out.push_back({name, value, unit_, line_});
        return out;
    }
    std::size_t size() const { return value_->is_structured() ? value_->size() : 0; }
    const std::string& name() const { return name_; }
    int line() const { return line_; }
    int key_line() const { return line_; }

  private:
    // A literal without point and exponent.
    bool is_whole() const {
        if (value_->is_number_integer()) return true;
        constexpr double exponents_from = 1e16;
        const double value = value_->get<double>();
        return std::abs(value) < exponents_from && std::floor(value) == value;
    }

    std::string name_;
    const Json* value_;  // of the reading table, which outlives it
    std::string_view unit_;
    int line_;
};

// A table of readings; its keys may be in different units.
class GivenTable {
  public:
    GivenTable(const ReadingTable& table, bool lines)
        : table_(table), head_(table.head), valve_(table.valve), lines_(lines) {}

    std::vector<Given> items() const {
        std::vector<Given> out;
        out.reserve(table_.fields.size() + 2);
        int line = 1;
        const auto add = [&](const std::string& key, const Json& value, std::string_view unit) {
            out.push_back({key, value, unit, lines_ ? ++line : 0});
        };
        add("head", head_, "");
        add("valve", valve_, "");
        for (const auto& field : table_.fields) add(field.key, field.value, field.unit);
        return out;
    }
    int line() const { return lines_ ? 1 : 0; }

  private:
    const ReadingTable& table_;
    Json head_, valve_;
    bool lines_;
};

}  // namespace

job::GivenReadings given_readings(const std::vector<ReadingTable>& tables, LengthUnit document,
                                  const std::string& file, bool lines) {
    const job::KeyNode& readings = *job::key_tree().child("reading");
    job::Walker<Given> walker(file, job::FileKind::job, document, true);
    std::map<std::string, std::vector<job::Value>> kinds;
    const job::KeyPath root, reading(root, "reading");
    for (const auto& table : tables) {
        const std::string kind = name_of(table.kind);
        auto& list = kinds[kind];
        const job::KeyPath of_kind(reading, kind), path(of_kind, list.size());
        list.push_back(walker.table(GivenTable(table, lines), *readings.child(kind), path, 0));
    }
    job::GivenReadings out;
    if (!tables.empty()) out.table.holds = job::Value::Holds::table;
    for (auto& [kind, items] : kinds) {
        job::Value list;
        list.holds = job::Value::Holds::list;
        list.items = std::move(items);
        out.table.fields.push_back({kind, std::move(list)});
    }
    out.faults = std::move(walker.faults);
    return out;
}

}  // namespace seatwright::store
