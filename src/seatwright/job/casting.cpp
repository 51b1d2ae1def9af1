#include "seatwright/job/casting.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "seatwright/job/build.hpp"
#include "seatwright/job/reader.hpp"
#include "seatwright/job/text.hpp"
#include "seatwright/job/walk.hpp"

namespace seatwright::job {
namespace {

void at_line(Value& value, int line) {
    value.line = line;
    for (auto& field : value.fields) at_line(field.entry, line);
    for (auto& item : value.items) at_line(item, line);
}

Value& field(Value& table, const std::string& name) {
    auto& fields = table.fields;
    const auto at = std::lower_bound(fields.begin(), fields.end(), name,
                                     [](const Value::Field& f, const std::string& n) { return f.name < n; });
    if (at != fields.end() && at->name == name) return at->entry;
    return fields.insert(at, {name, Value{}})->entry;
}

std::vector<PastHead> past_of(const Value& casting, const std::string& file, Faults& faults) {
    std::vector<PastHead> out;
    std::size_t index = 0;
    for (const Value* entry : casting.tables_of("past")) {
        const std::string key = fmt::format("casting.past[{}]", index++);
        PastHead past;
        past.head = entry->text_of("head").value_or("");
        past.from = entry->text_of("from").value_or("");
        past.tilt = entry->number_of("tilt").value_or(0);
        past.swing = entry->number_of("swing").value_or(0);
        if (const Value* valves = entry->find("valves"))
            for (const auto& item : valves->items) past.valves.push_back(item.text);
        const auto x = entry->numbers_of("x"), y = entry->numbers_of("y");
        past.sd = entry->numbers_of("sd");
        const auto n = past.valves.size();
        if (x.size() != n || y.size() != n || past.sd.size() != n) {
            faults.push_back({file, entry->line, key,
                              fmt::format("has {} valves, {} x, {} y and {} sd; of each valve one is wanted",
                                          n, x.size(), y.size(), past.sd.size())});
            continue;
        }
        for (std::size_t i = 0; i < n; ++i) past.off.emplace_back(x[i], y[i]);
        out.push_back(std::move(past));
    }
    if (out.size() > most_past_heads)
        faults.push_back({file, casting.line_of("past"), "casting.past",
                          fmt::format("holds {} heads and setups; the latest {} teach as much", out.size(),
                                      most_past_heads)});
    return out;
}

// Its tables, one standing for a list of one.
std::vector<Value> entries_of(const Value& list) {
    return list.holds == Value::Holds::table ? std::vector<Value>{list} : list.items;
}

// Valves of the casting's list that the job does not list by the same id.
void add_valves(Value& mine, const Value& its, int line, std::vector<std::string>& taken) {
    auto all = entries_of(mine);
    const auto count = all.size();
    auto theirs = entries_of(its);
    for (auto& v : theirs) {
        const auto id = v.text_of("id");
        if (std::any_of(all.begin(), all.begin() + static_cast<std::ptrdiff_t>(count),
                        [&](const Value& own) { return own.text_of("id") == id; }))
            continue;
        at_line(v, line);
        taken.push_back("head.valve." + id.value_or(""));
        all.push_back(std::move(v));
    }
    mine.holds = Value::Holds::list;
    mine.fields.clear();
    mine.items = std::move(all);
}

// A head's places along the row, to tell one casting from another.
std::vector<double> places_of(const Value& head) {
    Value root;
    root.holds = Value::Holds::table;
    root.fields.push_back({"head", head});
    std::vector<double> out;
    for (const auto& v : build_head({&root, "", LengthUnit::mm}, {}).value.valves) out.push_back(v.seat.x());
    return out;
}

// Both describe valves: whether it is one head.
std::string another(const Value& mine, const Value& its, const std::string& name) {
    const auto describes = [](const Value& head) { return head.has("valve") || head.has("pattern"); };
    if (!describes(mine) || !describes(its) || mine.has("valve")) return {};
    const auto a = places_of(mine), b = places_of(its);
    if (a.size() != b.size())
        return fmt::format("is another casting's ({}): it has {} valves, the head of this job {}", name,
                           b.size(), a.size());
    constexpr double same_head = 3;  // mm over the length of the head
    if (!a.empty() && std::abs((a.back() - a.front()) - (b.back() - b.front())) > same_head)
        return fmt::format(
            "is another casting's ({}): its valves lie within {:.1f} mm, those of this job within {:.1f}",
            name, b.back() - b.front(), a.back() - a.front());
    return {};
}

}  // namespace

Checked<Casting> read_casting(std::string_view text, const std::string& file) {
    const auto document = read_text(std::string(text));
    const auto form = document.root().find("casting").find("form").integer();
    if (form && *form > casting_form)
        return tl::unexpected(Faults{
            {file, document.root().find("casting").find("form").line(), "casting.form",
             fmt::format(
                 "is {}: written by a newer program than this one, which reads up to {}; export it again "
                 "from there, or use that program",
                 *form, casting_form)}});
    auto walked = walk_document(document, file, FileKind::job, LengthUnit::mm, casting_tree());
    Faults faults = std::move(walked.faults);
    Casting out;
    if (walked.readable) {
        if (const Value* about = walked.root.table_of("casting")) {
            out.name = about->text_of("name").value_or("");
            out.past = past_of(*about, file, faults);
        }
        if (faults.empty()) {
            auto head = build_head({&walked.root, file, walked.units}, faults);
            faults = std::move(head.faults);
        }
    }
    if (!faults.empty()) return tl::unexpected(in_reading_order(std::move(faults), file, walked.more_faults));
    out.root = std::move(walked.root);
    return out;
}

tl::expected<std::vector<std::string>, std::string> take_from_casting(Value& job, const Casting& casting,
                                                                      int line) {
    std::vector<std::string> taken;
    Value& head = field(job, "head");
    if (head.holds != Value::Holds::table) head.holds = Value::Holds::table, head.line = line;
    if (const Value* its = casting.root.table_of("head")) {
        if (auto why = another(head, *its, casting.name); !why.empty()) return tl::unexpected(std::move(why));
        for (const auto& [name, entry] : its->fields) {
            if (name == "assumed" || name == "surveyed") continue;
            if (name == "valve" && head.has("valve")) {
                add_valves(field(head, "valve"), entry, line, taken);
                continue;
            }
            // A job with a pattern of its own describes all its valves.
            if (head.has(name) || (name == "valve" && head.has("pattern"))) continue;
            Value copy = entry;
            at_line(copy, line);
            field(head, name) = std::move(copy);
            taken.push_back("head." + name);
        }
        // What was made up there is made up here, as far as it came from there.
        if (const Value* assumed = its->find("assumed")) {
            Value& mine = field(head, "assumed");
            mine.holds = Value::Holds::list;
            for (const auto& item : assumed->items)
                if (Head::names(taken, item.text) || !item.text.starts_with("head."))
                    mine.items.push_back(item);
        }
    }
    for (const char* form : {"valve", "seat", "guide"}) {
        const Value* its = casting.root.table_of(form);
        if (!its) continue;
        Value& mine = field(job, form);
        if (mine.holds != Value::Holds::table) mine.holds = Value::Holds::table, mine.line = line;
        for (const auto& [kind, entry] : its->fields) {
            if (mine.has(kind)) continue;
            Value copy = entry;
            at_line(copy, line);
            field(mine, kind) = std::move(copy);
            taken.push_back(fmt::format("{}.{}", form, kind));
        }
    }
    if (const Value* about = casting.root.table_of("casting"); about && !job.has("fixture"))
        if (const auto* fixture = about->find("fixture"); fixture && fixture->holds == Value::Holds::text) {
            Value copy = *fixture;
            at_line(copy, line);
            field(job, "fixture") = std::move(copy);
        }
    return taken;
}

}  // namespace seatwright::job
