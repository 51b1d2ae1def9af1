#include "seatwright/job/reader.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <iterator>
#include <string_view>

#include "seatwright/job/agree.hpp"
#include "seatwright/job/build.hpp"
#include "seatwright/job/casting.hpp"
#include "seatwright/job/plainly.hpp"
#include "seatwright/job/shop_cache.hpp"
#include "seatwright/job/text.hpp"
#include "seatwright/job/walk.hpp"

namespace seatwright::job {
namespace {

template <class T>
T take_built(Built<T>&& built, Faults& faults) {
    std::move(built.faults.begin(), built.faults.end(), std::back_inserter(faults));
    return std::move(built.value);
}

// Where the tables and keys stand, for faults that only a later stage can find.
void note_lines(const Value& table, const std::string& path, Job& job) {
    for (const auto& field : table.fields) {
        const std::string full = path.empty() ? field.name : path + "." + field.name;
        job.lines[full] = field.entry.line;
        if (field.entry.holds == Value::Holds::table) note_lines(field.entry, full, job);
    }
}

// Readings beside those of the file, behind them; names stay in order.
void add_readings(Value& root, Value readings) {
    if (readings.holds != Value::Holds::table) return;
    const auto field = [](std::vector<Value::Field>& fields, const std::string& name) {
        const auto at =
            std::lower_bound(fields.begin(), fields.end(), name,
                             [](const Value::Field& f, const std::string& n) { return f.name < n; });
        return at != fields.end() && at->name == name ? at : fields.insert(at, {name, Value{}});
    };
    Value& into = field(root.fields, "reading")->entry;
    into.holds = Value::Holds::table;
    for (auto& [kind, list] : readings.fields) {
        Value& there = field(into.fields, kind)->entry;
        if (there.holds == Value::Holds::table) there.items = {Value(there)};
        there.holds = Value::Holds::list;
        there.fields.clear();
        std::move(list.items.begin(), list.items.end(), std::back_inserter(there.items));
    }
}

// The shop file of the job, if it names one.
std::shared_ptr<const WalkedShop> shop_of(const Walked& job, const std::string& job_file, const Fetch& fetch,
                                          std::string& shop_file, Faults& faults) {
    const auto nothing = std::make_shared<const WalkedShop>();
    const auto path = job.root.text_of("shop");
    if (!path) return nothing;
    // As it can be opened from where the job file was named.
    shop_file = (std::filesystem::path(job_file).parent_path() / *path).string();
    const auto blame = [&](const std::string& text) {
        faults.push_back({job_file, job.root.line_of("shop"), "shop", text});
    };
    if (path->empty()) {
        blame("is empty; wanted: the path of the shop file, or no such key");
        return nothing;
    }
    if (!fetch) {
        blame("names a shop file, but no files can be read here");
        return nothing;
    }
    const auto text = fetch(*path);
    if (!text) {
        blame(fmt::format("\"{}\" cannot be read: {}", *path, text.error()));
        return nothing;
    }
    return walked_shop(*text, shop_file, job.units);
}

// What the job's casting adds to its entries, if it names one.
struct OfCasting {
    std::vector<std::string> keys;
    std::vector<PastHead> past;
};

OfCasting with_casting(Walked& job, const std::string& job_file, const Fetch& fetch, Faults& faults) {
    const auto path = job.root.text_of("casting");
    if (!path) return {};
    const int line = job.root.line_of("casting");
    // Its head may be the casting's.
    std::erase_if(faults, [](const Fault& f) { return f.key == "head" && f.text.starts_with("is missing"); });
    const auto blame = [&](const std::string& text) {
        faults.push_back({job_file, line, "casting", text});
        return OfCasting{};
    };
    if (path->empty()) return blame("is empty; wanted: the path of a casting's file, or no such key");
    if (!fetch) return blame("names a casting's file, but no files can be read here");
    const auto text = fetch(*path);
    if (!text) return blame(fmt::format("\"{}\" cannot be read: {}", *path, text.error()));
    const std::string file = (std::filesystem::path(job_file).parent_path() / *path).string();
    auto casting = read_casting(*text, file);
    if (!casting) {
        faults.insert(faults.end(), casting.error().begin(), casting.error().end());
        return {};
    }
    auto taken = take_from_casting(job.root, *casting, line);
    if (!taken) return blame(fmt::format("\"{}\" {}", *path, taken.error()));
    return {std::move(*taken), std::move(casting->past)};
}

}  // namespace

Checked<Job> read_job(std::string_view text, const std::string& file, const Fetch& fetch) {
    return read_job(read_text(std::string(text)), file, fetch);
}

Checked<Job> read_job(const toml::Document& document, const std::string& file, const Fetch& fetch,
                      GivenReadings readings) {
    Walked walked = walk_document(document, file, FileKind::job, LengthUnit::mm);
    if (!walked.readable)
        return tl::unexpected(in_reading_order(std::move(walked.faults), file, walked.more_faults));
    Faults faults = std::move(walked.faults);
    std::move(readings.faults.begin(), readings.faults.end(), std::back_inserter(faults));
    add_readings(walked.root, std::move(readings.table));
    OfCasting casting = with_casting(walked, file, fetch, faults);
    std::string shop_file;
    const auto shop = shop_of(walked, file, fetch, shop_file, faults);
    faults.insert(faults.end(), shop->faults.begin(), shop->faults.end());

    std::vector<Source> sources{{&walked.root, file, walked.units}};
    if (shop->root.holds == Value::Holds::table) sources.push_back({&shop->root, shop_file, walked.units});
    Job job;
    job.title = walked.root.text_of("title").value_or("");
    job.file = file;
    job.units = walked.units;
    job.head = take_built(build_head(sources.front(), faults), faults);
    Forms forms = take_built(build_forms(sources), faults);
    job.valve = forms.valve;
    job.seat = std::move(forms.seat);
    job.guide = forms.guide;
    Rules rules = take_built(build_rules(sources), faults);
    job.depth = std::move(rules.depth);
    job.find = rules.find;
    job.head.of_casting = std::move(casting.keys);
    job.find.past = std::move(casting.past);
    job.cut = std::move(rules.cut);
    job.sure = std::move(rules.sure);
    for (auto& sure : job.sure) sure.units = job.units;
    job.figures = figures_of(walked.root, job.units);
    job.allow = std::move(rules.allow);
    job.assumptions = assumed_of(job.find);
    Shelf shelf = take_built(build_shelf(sources), faults);
    if (shelf.machine) job.machine = *shelf.machine;
    if (shelf.fixture) job.fixture = *shelf.fixture;
    job.machine_of_shelf = shelf.machine && walked.root.table_of("machine") == nullptr;
    job.fixture_of_shelf = shelf.fixture && walked.root.table_of("fixture") == nullptr;
    job.fixtures = std::move(shelf.fixtures);
    job.pilots = std::move(shelf.pilots);
    job.cutters = std::move(shelf.cutters);
    job.materials = std::move(shelf.materials);
    job.rates = shelf.rates;
    job.dialect = shelf.dialect;
    job.forecast = take_built(build_forecast(sources), faults);
    job.gauges = take_built(build_gauges(sources), faults);
    job.readings = take_built(
        build_readings(sources.front(), valves_in_doubt(faults) ? nullptr : &job.head, job.machine.trim),
        faults);
    job.given = plainly(walked.root) + shop->plain;
    note_lines(walked.root, "", job);
    for (Fault& fault : disagreements(job, valves_in_doubt(faults) ? Valves::in_doubt : Valves::known))
        faults.push_back(std::move(fault));
    if (!faults.empty()) return tl::unexpected(in_reading_order(std::move(faults), file, shop->more_faults));
    return job;
}

}  // namespace seatwright::job
