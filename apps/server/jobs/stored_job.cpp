#include "server/jobs/stored_job.hpp"

#include "seatwright/job/text.hpp"
#include "seatwright/store/given_readings.hpp"
#include "seatwright/store/merge.hpp"

namespace seatwright::server {

namespace {

// Bare lengths of the entries are told in the unit of the text they go beside.
Checked<job::Job> with_readings(const toml::Document& text, const StoredJob& stored) {
    const LengthUnit units = job::units_of(text);
    return job::read_job(
        text, job_file_name, fetch_of(stored.shop_text),
        store::given_readings(store::reading_tables(stored.entries, stored.resolution, units), units,
                              job_file_name));
}

}  // namespace

std::string text_of(const StoredJob& stored) {
    return store::merged(stored.version.text,
                         store::readings_toml(stored.entries, stored.resolution, stored.units));
}

Checked<job::Job> job_of(const StoredJob& stored) {
    return with_readings(stored.read->text, stored);
}

Checked<job::Job> job_of(const StoredJob& stored, const std::string& text) {
    return with_readings(job::read_text(text), stored);
}

job::Fetch fetch_of(const std::string& shop_text) {
    return [&shop_text](const std::string&) { return shop_text; };
}

Checked<job::Job> read_with_shop(const std::string& text, const std::string& shop_text,
                                 const std::string& name) {
    return job::read_job(text, name, fetch_of(shop_text));
}

}  // namespace seatwright::server
