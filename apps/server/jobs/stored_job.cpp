#include "server/jobs/stored_job.hpp"

#include "seatwright/job/text.hpp"
#include "seatwright/job/with_reading.hpp"
#include "seatwright/store/given_readings.hpp"
#include "seatwright/store/merge.hpp"

namespace seatwright::server {

namespace {

Checked<job::Job> read(const toml::Document& text, const StoredJob& stored,
                       job::GivenReadings readings = {}) {
    return job::read_job(
        text, job_file_name,
        fetch_of(text, stored.shop_text, [&](const std::string&) { return stored.read->casting_text; }),
        std::move(readings));
}

// Bare lengths of the entries are told in the unit of the text they go beside.
Checked<job::Job> with_readings(const toml::Document& text, const StoredJob& stored) {
    const LengthUnit units = job::units_of(text);
    return read(text, stored,
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
    const auto document = job::read_text(text);
    if (stored.job.job && stored.document)
        if (auto edited = read(document, stored))
            if (auto whole = job::with_readings_of(*stored.job.job, *stored.document, std::move(*edited)))
                return std::move(*whole);
    return with_readings(document, stored);
}

job::Fetch fetch_of(const toml::Document& text, const std::string& shop_text, const CastingText& castings) {
    return [casting = text.root().find("casting").text(), &shop_text,
            castings](const std::string& path) -> tl::expected<std::string, std::string> {
        if (!casting || path != *casting) return shop_text;
        if (auto found = castings ? castings(path) : std::nullopt) return std::move(*found);
        return tl::unexpected<std::string>("no casting of that name is on the Shelf");
    };
}

Checked<job::Job> read_with_shop(const std::string& text, const std::string& shop_text,
                                 const CastingText& castings, const std::string& name) {
    const auto document = job::read_text(text);
    return job::read_job(document, name, fetch_of(document, shop_text, castings));
}

}  // namespace seatwright::server
