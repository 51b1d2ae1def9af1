#include "server/jobs/nightly_backup.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <spdlog/spdlog.h>
#include <sys/stat.h>

#include <algorithm>
#include <ctime>
#include <filesystem>

#include "seatwright/store/backup.hpp"
#include "seatwright/store/backup_folder.hpp"
#include "seatwright/store/fault_words.hpp"
#include "seatwright/store/photographs.hpp"
#include "seatwright/words/english_server.hpp"
#include "seatwright/words/in_words.hpp"

namespace seatwright::server {

namespace {

namespace fs = std::filesystem;
using std::chrono::days;
using std::chrono::sys_days;

bool on_one_disk(const std::string& a, const std::string& b) {
    struct stat first {
    }, second{};
    return ::stat(a.c_str(), &first) == 0 && ::stat(b.c_str(), &second) == 0 && first.st_dev == second.st_dev;
}

// A folder that goes with its object.
class FolderAside {
  public:
    explicit FolderAside(fs::path path) : path_(std::move(path)) { fs::remove_all(path_, ignored_); }
    ~FolderAside() { fs::remove_all(path_, ignored_); }
    FolderAside(const FolderAside&) = delete;
    FolderAside& operator=(const FolderAside&) = delete;
    std::string path() const { return path_.string(); }

  private:
    fs::path path_;
    std::error_code ignored_;
};

// Every stage of a job as its JSON, or what it lacks.
std::string head_worked_out(JobCache& cache, long long job) {
    const auto stored = cache.stored(job);
    const auto computation = cache.computation(stored, "");
    std::string all;
    if (!computation->readable()) return "not readable";
    for (const job::Stage stage :
         {job::Stage::hold, job::Stage::find, job::Stage::shape, job::Stage::cut, job::Stage::prove}) {
        const auto lacks = computation->needs(stage);
        all += lacks.empty()
                   ? computation->json(stage)
                   : fmt::format("{}", fmt::join(in_words(lacks, {computation->job().units}), "; "));
    }
    if (computation->failed()) throw std::runtime_error("a stage fails");
    return all;
}

}  // namespace

std::chrono::local_seconds local_now() {
    const std::time_t now = std::time(nullptr);
    std::tm at{};
    ::localtime_r(&now, &at);
    return std::chrono::local_seconds(std::chrono::seconds(::timegm(&at)));
}

void NightlyBackup::tend(std::chrono::local_seconds now) {
    if (to_.empty()) return;
    constexpr std::chrono::hours two{2};
    const auto date = std::chrono::floor<days>(now);
    const sys_days today(date.time_since_epoch());
    const auto all = store::backups_in(to_);
    // One of a later day was made by a clock that was wrong: it keeps nobody from making today's.
    const bool made = std::find(all.begin(), all.end(), today) != all.end();
    if (made || (!all.empty() && all.front() < today && now - date < two)) return;
    Sentence failed;
    try {
        failed = make(today);
    } catch (const HttpError& fault) {
        const auto words = fault.body.find("error");
        failed = words == fault.body.end() ? sentence<"not-worked-out">()
                                           : sentence<"fault">("fault"_is = words->get<std::string>());
    } catch (const std::exception& fault) {
        failed = sentence<"fault">("fault"_is = store::words_of(fault));
    }
    if (!failed.empty()) spdlog::error(fmt::format("backup: {}", in_words(failed, {})));
    const std::lock_guard lock(mutex_);
    failed_ = failed;
}

// Under another name until it has been tried: what is named as a backup is one. Gives what is wrong with it.
Sentence NightlyBackup::make(sys_days day) {
    std::error_code failed;
    fs::create_directories(to_, failed);
    const fs::path target = fs::path(to_) / store::nightly_name(day);
    const fs::path trial = target.string() + ".trial";
    fs::remove(trial, failed);
    const auto contents = store::backup(data_, trial.string());
    if (!contents) throw std::runtime_error(contents.error().text);
    Sentence wrong;
    if (!contents->damage.empty()) wrong = sentence<"fault">("fault"_is = contents->damage.front());
    if (wrong.empty()) wrong = replay(trial.string(), day);
    if (!wrong.empty()) {
        fs::remove(trial, failed);
        return wrong;
    }
    const auto photographs =
        store::copy_photographs(store::photographs_folder(data_), store::photographs_folder(to_));
    if (!photographs) throw std::runtime_error(photographs.error().text);
    fs::rename(trial, target);
    store::prune(to_, day);
    return {};
}

// Put back into a folder of its own and one job of it, each night another, worked out: what is wrong, or
// nothing. A job that nobody has changed since must give what the running workbench gives.
Sentence NightlyBackup::replay(const std::string& backup, sys_days day) const {
    const FolderAside aside(fs::path(to_) / "trial-of-newest");
    const auto restored = store::restore(backup, aside.path());
    if (!restored) return sentence<"fault">("fault"_is = restored.error().text);
    store::Database database(store::database_file(aside.path()));
    JobCache there(database);
    const auto rows = store::Jobs(database).rows(false);
    if (rows.empty()) return {};
    const auto night = static_cast<std::size_t>(day.time_since_epoch().count());
    const long long job = rows[night % rows.size()].id;
    try {
        const std::string again = head_worked_out(there, job);
        const auto now = cache_.stored(job), then = there.stored(job);
        const bool unchanged = now->row.version == then->row.version &&
                               now->row.sequence == then->row.sequence && now->shop_text == then->shop_text;
        if (unchanged && head_worked_out(cache_, job) != again)
            return sentence<"other-numbers">("job"_is = job);
    } catch (const std::runtime_error& fault) {
        return sentence<"not-from-backup">("job"_is = job, "fault"_is = store::words_of(fault));
    }
    return {};
}

NightlyBackup::Standing NightlyBackup::standing(sys_days until) const {
    Standing out;
    out.folder = to_;
    if (to_.empty()) return out;
    auto all = store::backups_in(to_);
    std::erase_if(all, [&](sys_days day) { return day > until; });
    out.count = all.size();
    if (!all.empty()) out.newest = all.back();
    out.same_disk = on_one_disk(data_, to_);
    const std::lock_guard lock(mutex_);
    out.failed = failed_;
    return out;
}

Sentence NightlyBackup::warning(sys_days today) const {
    constexpr days most{2};
    const Standing now = standing(today + days(1));
    if (now.folder.empty()) return {};
    if (!now.newest && now.failed.empty()) return {};  // the first is being made
    if (now.newest && today - *now.newest <= most && now.failed.empty()) return {};
    const Sentence age = now.newest ? sentence<"newest-backup-old">("days"_is = (today - *now.newest).count())
                                    : sentence<"no-backup">();
    return now.failed.empty() ? age : sentence<"last-try-failed">("age"_is = age, "fault"_is = now.failed);
}

}  // namespace seatwright::server
