#include "server/jobs/source.hpp"

#include "seatwright/job/text.hpp"
#include "seatwright/store/given_readings.hpp"
#include "seatwright/store/merge.hpp"

namespace seatwright::server {

namespace {

// Bare lengths of the entries are told in the unit of the text they go beside.
Checked<job::Job> with_readings(const toml::Document& text, const Source& source) {
    const LengthUnit units = job::units_of(text);
    return job::read_job(
        text, job_file_name, fetch_of(source.shop_text),
        store::given_readings(store::reading_tables(source.entries, source.resolution, units), units,
                              job_file_name));
}

}  // namespace

std::string text_of(const Source& source) {
    return store::merged(source.version.text,
                         store::readings_toml(source.entries, source.resolution, source.units));
}

Checked<job::Job> job_of(const Source& source) {
    return with_readings(source.read->text, source);
}

Checked<job::Job> job_of(const Source& source, const std::string& text) {
    return with_readings(job::read_text(text), source);
}

job::Fetch fetch_of(const std::string& shop_text) {
    return [&shop_text](const std::string&) { return shop_text; };
}

Checked<job::Job> read_with_shop(const std::string& text, const std::string& shop_text,
                                 const std::string& name) {
    return job::read_job(text, name, fetch_of(shop_text));
}

}  // namespace seatwright::server
