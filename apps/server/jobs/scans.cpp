#include "server/jobs/scans.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <filesystem>

#include "seatwright/scan/mapped.hpp"
#include "seatwright/store/people.hpp"

namespace seatwright::server {

using store::Answer;
using store::refuse;
using store::Why;

struct ScanFile {
    std::string id, file;
    long long person = 0;
    int handle = -1;
    unsigned long long bytes = 0, taken = 0;
    std::shared_ptr<const scan::Surface> surface;
    std::chrono::steady_clock::time_point asked = std::chrono::steady_clock::now();
    std::mutex mutex;  // of all that changes

    ~ScanFile() {
        if (handle >= 0) ::close(handle);
    }
    ScanStanding standing() const { return {id, file, bytes, taken, surface}; }
};

namespace {

// A file nobody else finds: it has no name.
int nameless(const std::string& folder) {
    const int made = ::open(folder.c_str(), O_TMPFILE | O_RDWR | O_CLOEXEC, 0600);
    if (made >= 0 || (errno != EOPNOTSUPP && errno != EISDIR)) return made;
    std::string name = folder + "/scan-XXXXXX";
    const int named = ::mkostemp(name.data(), O_CLOEXEC);
    if (named >= 0) ::unlink(name.c_str());
    return named;
}

// As a person reads it: without the folder, and on one line.
std::string shown(const std::string& file) {
    std::string out = std::filesystem::path(file).filename().string();
    std::erase_if(out, [](char c) { return static_cast<unsigned char>(c) < 0x20; });
    constexpr std::size_t longest = 120;
    if (out.size() > longest) out = out.substr(out.size() - longest);
    return out.empty() ? "a scan" : out;
}

// Of a hundred parts of the whole, as these steps take their time.
std::size_t part_of(scan::Step step, double part) {
    constexpr std::array<double, 5> until{0, 40, 45, 70, 100};
    const auto k = static_cast<std::size_t>(step);
    return static_cast<std::size_t>(until[k] + std::clamp(part, 0.0, 1.0) * (until[k + 1] - until[k]));
}

}  // namespace

Scans::~Scans() = default;

Answer<ScanStanding> Scans::begin(long long person, std::string file, unsigned long long bytes) {
    if (bytes == 0) return refuse(Why::bad, "the file is empty; points were wanted");
    if (bytes > most_bytes)
        return refuse(Why::too_large,
                      fmt::format("the file is larger than {} MiB: thin its points, or scan it with the "
                                  "command line",
                                  most_bytes >> 20));
    const std::lock_guard lock(mutex_);
    forget(person);
    if (files_.size() >= most_kept)
        return refuse(Why::bad, "other people's scans lie here, as many as there is room for; try later");
    auto one = std::make_shared<ScanFile>();
    one->id = store::random_hex(8);
    one->person = person;
    one->file = shown(file);
    one->bytes = bytes;
    one->handle = nameless(folder_);
    if (one->handle < 0)
        return refuse(Why::bad, fmt::format("there is no room for it: {}", std::strerror(errno)));
    files_.push_back(one);
    return one->standing();
}

// With the lock held: what has lain long, and of this person the oldest, so that there is room for one more.
void Scans::forget(long long person) {
    const auto now = std::chrono::steady_clock::now();
    files_.remove_if([&](const auto& one) { return now - one->asked > kept_for; });
    const auto is_theirs = [&](const auto& one) { return one->person == person; };
    while (static_cast<std::size_t>(std::count_if(files_.begin(), files_.end(), is_theirs)) >= most_of_one)
        files_.erase(std::find_if(files_.begin(), files_.end(), is_theirs));
}

std::shared_ptr<ScanFile> Scans::file_of(long long person, const std::string& id) {
    const std::lock_guard lock(mutex_);
    const auto at = std::find_if(files_.begin(), files_.end(),
                                 [&](const auto& one) { return one->person == person && one->id == id; });
    if (at == files_.end()) return nullptr;
    (*at)->asked = std::chrono::steady_clock::now();
    return *at;
}

Answer<ScanStanding> Scans::add(long long person, const std::string& id, unsigned long long at,
                                std::string_view piece) {
    const auto one = file_of(person, id);
    if (!one) return refuse(Why::not_found, "there is no such scan any more: send the file again");
    const std::lock_guard lock(one->mutex);
    if (at != one->taken)
        return refuse(Why::stale, fmt::format("the next byte wanted is number {}", one->taken));
    if (piece.size() > one->bytes - one->taken)
        return refuse(Why::bad, fmt::format("the file was said to have {} bytes; this is more", one->bytes));
    std::size_t written = 0;
    while (written < piece.size()) {
        const auto n = ::pwrite(one->handle, piece.data() + written, piece.size() - written,
                                static_cast<off_t>(one->taken + written));
        if (n < 0 && errno == EINTR) continue;
        if (n <= 0)
            return refuse(Why::bad, fmt::format("it cannot be kept: {}; make room on the server's disk",
                                                std::strerror(errno)));
        written += static_cast<std::size_t>(n);
    }
    one->taken += piece.size();
    return one->standing();
}

Answer<ScanStanding> Scans::read(long long person, const std::string& id, std::optional<LengthUnit> units,
                                 TaskReport& report) {
    const auto one = file_of(person, id);
    if (!one) return refuse(Why::not_found, "there is no such scan any more: send the file again");
    {
        const std::lock_guard lock(one->mutex);
        if (one->taken < one->bytes)
            return refuse(Why::bad, fmt::format("{} of {} bytes have come; send the rest first", one->taken,
                                                one->bytes));
    }
    const auto mapped = scan::Mapped::of(one->handle);
    if (!mapped) return refuse(Why::bad, fmt::format("{} {}", one->file, mapped.error()));
    constexpr std::size_t all = 100;
    try {
        auto surface = scan::surface_of(mapped->bytes(), one->file, units, scan::most_shown,
                                        [&](scan::Step step, double part) {
                                            const std::string words(words_of(step));
                                            if (!report.progress(part_of(step, part), all, words))
                                                throw scan::Stopped{};
                                        });
        if (surface)
            // A head must be in it.
            if (auto found = scan::scan_of(*surface, {}); !found) surface = tl::unexpected(found.error());
        if (!surface) return refuse(Why::bad, fmt::format("{} {}", one->file, surface.error().front().text));
        const std::lock_guard lock(one->mutex);
        one->surface = std::make_shared<const scan::Surface>(std::move(*surface));
        return one->standing();
    } catch (const scan::Stopped&) {
        return refuse(Why::bad, "stopped; nothing was kept");
    }
}

std::optional<ScanStanding> Scans::standing(long long person, const std::string& id) {
    const auto one = file_of(person, id);
    if (!one) return std::nullopt;
    const std::lock_guard lock(one->mutex);
    return one->standing();
}

bool Scans::let_go(long long person, const std::string& id) {
    const std::lock_guard lock(mutex_);
    return files_.remove_if([&](const auto& one) { return one->person == person && one->id == id; }) > 0;
}

}  // namespace seatwright::server
