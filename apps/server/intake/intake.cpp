#include "server/intake/intake.hpp"

#include "seatwright/store/split.hpp"

namespace seatwright::server {

store::Answer<store::JobRow> take_in(Workbench& bench, const store::Person& by, const Intake& intake,
                                     const store::Progress& progress) {
    if (intake.text.size() > job::max_file_bytes ||
        intake.shop_text.value_or("").size() > job::max_file_bytes)
        return store::refuse(store::Why::too_large, "a job file has at most 16 MiB");
    const std::string shop = intake.shop_text ? *intake.shop_text : bench.shelf.current().text;
    const auto job = read_with_shop(intake.text, shop, intake.file);
    if (!job) {
        auto refusal =
            store::refuse(store::Why::bad, "the job file cannot be read: " + to_line(job.error().front()));
        refusal.value().faults = job.error();
        return refusal;
    }
    if (progress && !progress(0, 1)) return store::refuse(store::Why::bad, "cancelled; nothing was kept");
    auto split = store::split_readings(intake.text, job->units);
    if (!split) return tl::unexpected(split.error());
    store::NewJob made;
    made.text = std::move(split->document);
    made.shop_text = intake.shop_text;
    made.what = intake.what;
    if (intake.keep_original) {
        made.original = intake.text;
        made.original_name = intake.file;
    }
    made.entries = std::move(split->readings);
    return bench.jobs.make(by, made, progress);
}

}  // namespace seatwright::server
