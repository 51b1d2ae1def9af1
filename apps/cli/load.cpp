#include "cli/load.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>

#include "cli/files.hpp"
#include "seatwright/base/progress_line.hpp"
#include "seatwright/job/reader.hpp"

namespace seatwright::cli {

void print_faults(const Faults& faults) {
    for (const auto& fault : faults) fmt::print(stderr, "{}\n", to_line(fault));
}

std::optional<job::Job> load(const std::string& path) {
    const auto text = read_file(path, job::max_file_bytes);
    if (!text) {
        print_faults({{path, 0, "", text.error()}});
        return std::nullopt;
    }
    const auto folder = std::filesystem::path(path).parent_path();
    const job::Fetch fetch = [&](const std::string& shop) {
        return read_file(folder / shop, job::max_file_bytes);
    };
    auto read = with_progress_line("reading the job", [&] { return job::read_job(*text, path, fetch); });
    if (!read) {
        print_faults(read.error());
        return std::nullopt;
    }
    return std::move(*read);
}

std::optional<job::Job> load_for(const Asked& asked, const std::vector<job::Stage>& stages) {
    auto job = load(asked.job);
    if (!job) return std::nullopt;
    Faults faults;
    for (const auto stage : stages)
        for (auto& fault : job::needs(*job, stage)) {
            const auto same = [&](const Fault& f) { return f.key == fault.key && f.line == fault.line; };
            if (std::none_of(faults.begin(), faults.end(), same)) faults.push_back(std::move(fault));
        }
    const auto heads = job->heads();
    if (!asked.head.empty() && std::find(heads.begin(), heads.end(), asked.head) == heads.end())
        faults.push_back({asked.job, 0, "--head",
                          fmt::format("there is no reading of head '{}'; heads on record: {}", asked.head,
                                      fmt::join(heads, ", "))});
    const auto known = [&](const std::string& option, const std::string& valve) {
        if (job->head.index_of(valve)) return;
        std::vector<std::string> ids;
        for (const auto& of : job->head.valves) ids.push_back(of.id);
        faults.push_back({asked.job, 0, option,
                          fmt::format("the head has no valve '{}'; it has {}", valve, fmt::join(ids, ", "))});
    };
    for (const std::string& valve : asked.selection.only) known("--only", valve);
    if (asked.selection.from) known("--from", *asked.selection.from);
    if (faults.empty()) return job;
    print_faults(faults);
    return std::nullopt;
}

}  // namespace seatwright::cli
