#include "cli/part_files.hpp"

#include <fmt/format.h>
#include <signal.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <atomic>
#include <cerrno>
#include <charconv>
#include <optional>
#include <string_view>

namespace seatwright::cli {

namespace {

namespace fs = std::filesystem;

constexpr std::string_view beginning = ".seatwright.", ending = ".part";
constexpr std::array stopping{SIGTERM, SIGINT, SIGHUP};

// The process in ".seatwright.name.<process>.part"; none for a file that is not ours.
std::optional<pid_t> writer_of(std::string_view file) {
    if (!file.starts_with(beginning) || !file.ends_with(ending)) return std::nullopt;
    file.remove_prefix(beginning.size());
    file.remove_suffix(ending.size());
    const auto dot = file.rfind('.');
    if (dot == std::string_view::npos || dot == 0) return std::nullopt;
    const std::string_view number = file.substr(dot + 1);
    pid_t process = 0;
    const auto [end, fault] = std::from_chars(number.data(), number.data() + number.size(), process);
    if (fault != std::errc{} || end != number.data() + number.size() || process <= 0) return std::nullopt;
    return process;
}

// Before this process has written anything, a part file with its number is of one that had it earlier.
bool lives(pid_t process) {
    return process != ::getpid() && (::kill(process, 0) == 0 || errno != ESRCH);
}

// What the handler reads: whole before the handler is in place, untouched while it is.
struct Unfinished {
    std::vector<std::string> parts, folders;
    std::array<struct sigaction, stopping.size()> before{};
    std::atomic<bool> finishing = false;
    std::atomic<int> late = 0;  // the signal that came while finishing
};
Unfinished unfinished;

// Only calls that a signal handler may make.
void clear_away() {
    for (const auto& part : unfinished.parts) ::unlink(part.c_str());
    for (auto at = unfinished.folders.rbegin(); at != unfinished.folders.rend(); ++at) ::rmdir(at->c_str());
}

extern "C" void on_stopping(int signal) {
    if (unfinished.finishing) {
        unfinished.late = signal;
        return;
    }
    clear_away();
    ::signal(signal, SIG_DFL);
    ::raise(signal);  // held back until this handler returns, then ends the process
}

}  // namespace

fs::path part_of(const fs::path& folder, const std::string& name) {
    return folder / fmt::format("{}{}.{}{}", beginning, name, ::getpid(), ending);
}

void sweep_parts(const fs::path& folder) {
    std::error_code ec;
    std::vector<fs::path> left;
    for (fs::directory_iterator at(folder, ec), end; !ec && at != end; at.increment(ec)) {
        const auto process = writer_of(at->path().filename().string());
        std::error_code unknown;
        if (process && !lives(*process) && fs::is_regular_file(at->symlink_status(unknown)))
            left.push_back(at->path());
    }
    for (const auto& part : left) ::unlink(part.c_str());
}

UnfinishedParts::UnfinishedParts(const std::vector<fs::path>& parts, const std::vector<fs::path>& folders) {
    unfinished.parts.assign(parts.begin(), parts.end());
    unfinished.folders.assign(folders.begin(), folders.end());
    unfinished.finishing = false;
    unfinished.late = 0;
    for (std::size_t i = 0; i < stopping.size(); ++i) {
        ::sigaction(stopping[i], nullptr, &unfinished.before[i]);
        if (unfinished.before[i].sa_handler == SIG_IGN) continue;
        struct sigaction ours {};
        ours.sa_handler = on_stopping;
        for (const int other : stopping) ::sigaddset(&ours.sa_mask, other);
        ours.sa_flags = SA_RESTART;
        ::sigaction(stopping[i], &ours, nullptr);
    }
}

UnfinishedParts::~UnfinishedParts() {
    for (std::size_t i = 0; i < stopping.size(); ++i)
        ::sigaction(stopping[i], &unfinished.before[i], nullptr);
    if (const int signal = unfinished.late) ::raise(signal);
}

void UnfinishedParts::finishing() {
    unfinished.finishing = true;
}

void UnfinishedParts::take_away() {
    clear_away();
}

}  // namespace seatwright::cli
