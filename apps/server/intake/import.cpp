#include "server/intake/import.hpp"

#include "seatwright/store/split.hpp"
#include "server/intake/permission.hpp"
#include "server/jobs/casting_text.hpp"

namespace seatwright::server {

store::Answer<store::JobRow> import_job(Workbench& bench, const store::Person& by, const JobImport& given,
                                        const store::Progress& progress) {
    if (given.text.size() > job::max_file_bytes || given.shop_text.value_or("").size() > job::max_file_bytes)
        return store::refuse(store::Why::too_large, "a job file has at most 16 MiB");
    const std::string shop = given.shop_text ? *given.shop_text : bench.shelf.current().text;
    const auto job = read_with_shop(given.text, shop, castings_of(bench.database), given.file);
    if (!job) {
        auto refusal =
            store::refuse(store::Why::bad, "the job file cannot be read: " + to_line(job.error().front()));
        refusal.value().faults = job.error();
        return refusal;
    }
    if (progress && !progress(0, 1)) return store::refuse(store::Why::bad, "cancelled; nothing was kept");
    auto split = store::split_readings(given.text, job->units);
    if (!split) return tl::unexpected(split.error());
    store::NewJob made;
    made.text = std::move(split->document);
    made.shop_text = given.shop_text;
    made.what = given.what;
    if (given.keep_original) {
        made.original = given.text;
        made.original_name = given.file;
    }
    made.entries = std::move(split->readings);
    // A lead's word stands for the limits a lead brings.
    if (given.from_outside && !by.may(store::Role::lead))
        made.limits = settings_unlike_the_shops(made.text, given.shop_text, bench.shelf.current().text);
    return bench.jobs.make(by, made, progress);
}

}  // namespace seatwright::server
