#include "seatwright/store/last_digests.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/file.h>
#include <unistd.h>

#include <array>
#include <charconv>
#include <cstdlib>
#include <filesystem>
#include <optional>
#include <utility>

#include "seatwright/base/sha256.hpp"
#include "seatwright/store/chain.hpp"
#include "seatwright/store/server_address.hpp"
#include "seatwright/store/text_chain.hpp"

namespace seatwright::store {

namespace {

// What a line of a job's texts has in place of the job's number: no job ever has so high a one.
constexpr long long texts_of = 1'000'000'000'000'000'000;

// "<job, 20 digits> <number, 20 digits> <digest, 64> <check of what is before it, 8>\n"
constexpr std::size_t number_length = 20, digest_length = 64, check_length = 8;
constexpr std::size_t text_length = 2 * (number_length + 1) + digest_length;
constexpr std::size_t line_length = text_length + 1 + check_length + 1;

std::optional<long long> number_in(std::string_view text) {
    long long value = 0;
    const auto [end, fault] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (fault != std::errc() || end != text.data() + text.size()) return std::nullopt;
    return value;
}

std::string check_of(std::string_view text) {
    return sha256(text).substr(0, check_length);
}

std::string all_of(int handle) {
    std::string text;
    std::array<char, 1 << 16> part{};
    ssize_t got = 0;
    while ((got = ::pread(handle, part.data(), part.size(), static_cast<off_t>(text.size()))) > 0)
        text.append(part.data(), static_cast<std::size_t>(got));
    return text;
}

}  // namespace

std::string LastDigests::file_beside(const std::string& database_file) {
    return database_file + "-last";
}

std::string LastDigests::service_folder() {
    const char* given = std::getenv("STATE_DIRECTORY");
    const std::string folders = given == nullptr ? "" : given;  // with colons between
    return folders.substr(0, folders.find(':'));
}

std::string LastDigests::file_of_server(const std::string& url, long long shop) {
    const std::string folder = service_folder();
    if (folder.empty()) return {};
    const std::string name = sha256(fmt::format("{} {}", shown_address(url), shop)).substr(0, 16);
    return (std::filesystem::path(folder) / (name + "-last")).string();
}

LastDigests::LastDigests(const std::string& place, long long shop, Sql& sql)
    : of_server_(is_server_url(place)), file_(of_server_ ? file_of_server(place, shop) : file_beside(place)) {
    if (file_.empty()) return;
    const bool there = std::filesystem::exists(file_);
    open(of_server_);
    if (handle_ < 0) return;  // a folder that may only be read: nothing will be acknowledged there
    if (there) {
        read();
        found_ = compared(sql, lines_);
    }
    make(sql);
}

// `alone`: another server of this machine may have it open; then it is that one's.
void LastDigests::open(bool alone) {
    handle_ = ::open(file_.c_str(), O_RDWR | O_CREAT | O_CLOEXEC, 0600);
    if (handle_ >= 0 && alone && ::flock(handle_, LOCK_EX | LOCK_NB) != 0) {
        ::close(handle_);
        handle_ = -1;
    }
    if (handle_ < 0 && of_server_) file_.clear();
}

LastDigests::~LastDigests() {
    if (handle_ >= 0) ::close(handle_);
}

void LastDigests::read() {
    const std::string text = all_of(handle_);
    for (std::size_t at = 0; at + line_length <= text.size(); at += line_length) {
        const std::string_view line(text.data() + at, line_length);
        end_ = static_cast<long long>(at + line_length);
        const auto job = number_in(line.substr(0, number_length));
        const auto sequence = number_in(line.substr(number_length + 1, number_length));
        const bool whole =
            line.substr(text_length + 1, check_length) == check_of(line.substr(0, text_length));
        if (!job || !sequence || !whole) continue;
        lines_[*job] = {static_cast<long long>(at), *sequence,
                        std::string(line.substr(2 * (number_length + 1), digest_length))};
    }
}

LastDigests::Found LastDigests::compared(Sql& sql, const Lines& lines) {
    Found found;
    for (const auto& [key, line] : lines)
        if (key < texts_of)
            found.compare_entries(sql, key, line);
        else
            found.compare_texts(sql, key - texts_of, line);
    return found;
}

// The lines first: what they say was committed before the database is looked at.
void LastDigests::look_again(Database& database) {
    if (handle_ < 0) return;
    Lines lines;
    {
        const std::lock_guard lock(mutex_);
        lines = lines_;
    }
    auto found = database.read([&](Sql& sql) { return compared(sql, lines); });
    const std::lock_guard lock(mutex_);
    found_ = std::move(found);
}

std::map<long long, std::string> LastDigests::behind() const {
    const std::lock_guard lock(mutex_);
    return found_.behind;
}

std::map<long long, std::string> LastDigests::other() const {
    const std::lock_guard lock(mutex_);
    return found_.other;
}

void LastDigests::Found::compare_entries(Sql& sql, long long job, const Line& line) {
    long long stored = 0;
    sql << "select sequence from job where id = :job", soci::use(job), soci::into(stored);
    if (!sql.got_data()) stored = 0;
    if (stored < line.sequence)
        behind[job] = fmt::format("job {}: {} of its {} acknowledged entries are missing", job,
                                  line.sequence - stored, line.sequence);
    else if (digest_at(sql, job, line.sequence) != line.digest)
        other[job] = fmt::format("job {}: its entry {} is another than the one that was acknowledged", job,
                                 line.sequence);
}

// What was said of its entries stands first.
void LastDigests::Found::compare_texts(Sql& sql, long long job, const Line& line) {
    const std::string whose = job == the_shelf ? "the shelf" : fmt::format("job {}", job);
    long long stored = 0;
    if (job == the_shelf)
        sql << "select coalesce(max(version), 0) from shelf_version", soci::into(stored);
    else
        sql << "select version from job where id = :job", soci::use(job), soci::into(stored);
    if (!sql.got_data()) stored = 0;
    if (stored < line.sequence)
        behind.try_emplace(job, fmt::format("{}: {} of the {} versions of its text are missing", whose,
                                            line.sequence - stored, line.sequence));
    else if (text_digest_at(sql, job, line.sequence) != line.digest)
        other.try_emplace(job, fmt::format("{}: version {} of its text is another than the one that was "
                                           "acknowledged",
                                           whose, line.sequence));
}

// What it says nothing of yet.
void LastDigests::make(Sql& sql) {
    std::vector<std::pair<long long, Line>> all;
    const auto add = [&](const std::string& query, long long whose) {
        long long job = 0, number = 0;
        std::string digest;
        soci::statement rows =
            (sql.prepare << query, soci::into(job), soci::into(number), soci::into(digest));
        rows.execute();
        while (rows.fetch())
            if (lines_.count(job + whose) == 0) all.push_back({job + whose, {0, number, digest}});
    };
    add("select d.job_id, d.sequence, d.digest from entry_digest d join job j on j.id = d.job_id and "
        "j.sequence = d.sequence",
        0);
    add("select d.job_id, d.version, d.digest from text_digest d join (select job_id, max(version) as newest "
        "from text_digest group by job_id) n on n.job_id = d.job_id and n.newest = d.version",
        texts_of);
    for (const auto& [key, line] : all) put(key, line.sequence, line.digest);
}

void LastDigests::note(long long job, long long sequence, const std::string& digest) {
    put(job, sequence, digest);
}

void LastDigests::note_text(long long job, long long version, const std::string& digest) {
    put(job + texts_of, version, digest);
}

void LastDigests::put(long long key, long long sequence, const std::string& digest) {
    if (handle_ < 0) return;
    const std::lock_guard lock(mutex_);
    const auto [known, added] = lines_.try_emplace(key, Line{end_, 0, {}});
    if (added) end_ += static_cast<long long>(line_length);
    Line& line = known->second;
    if (line.sequence >= sequence) return;
    line.sequence = sequence;
    line.digest = digest;
    write(key, line);
}

void LastDigests::write(long long job, const Line& line) const {
    std::string text = fmt::format("{:0>20} {:0>20} {}", job, line.sequence, line.digest);
    text += " " + check_of(text) + "\n";
    // Not flushed, and a full disk only leaves it behind: what counts is in the database.
    static_cast<void>(!::pwrite(handle_, text.data(), text.size(), static_cast<off_t>(line.place)));
}

void LastDigests::require_whole(long long job) const {
    const std::lock_guard lock(mutex_);
    for (const auto* damaged : {&found_.behind, &found_.other})
        if (const auto at = damaged->find(job); at != damaged->end())
            throw Damaged(at->second +
                          ": nothing of this job is handed out; put the newest data back, or restore the "
                          "newest backup" +
                          (of_server_ ? "" : " into an empty folder"));
}

}  // namespace seatwright::store
