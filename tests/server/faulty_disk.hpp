// A disk that fails SQLite while a workbench runs on it: what it writes is refused, as by a file system that
// the kernel has made read-only (EROFS), or takes long. By SQLite's own way of putting a call in the place of
// the system's (sqlite3_vfs.xSetSystemCall, sqlite.org/c3ref/vfs.html). One at a time, in this process.
#pragma once

#include <soci/sqlite3/soci-sqlite3.h>
#include <unistd.h>

#include <atomic>
#include <cerrno>
#include <chrono>
#include <thread>

namespace seatwright::server {

using namespace sqlite_api;  // where SOCI has SQLite's own names

class FaultyDisk {
  public:
    FaultyDisk() { put_in_place(reinterpret_cast<sqlite3_syscall_ptr>(write)); }
    ~FaultyDisk() {
        refuses() = false;
        slow_ms() = 0;
        put_in_place(nullptr);
    }
    FaultyDisk(const FaultyDisk&) = delete;
    FaultyDisk& operator=(const FaultyDisk&) = delete;

    static std::atomic<bool>& refuses() {
        static std::atomic<bool> one{false};
        return one;
    }
    // What each write takes longer.
    static std::atomic<int>& slow_ms() {
        static std::atomic<int> one{0};
        return one;
    }
    // How many have been made since there is one.
    static std::atomic<long long>& writes() {
        static std::atomic<long long> one{0};
        return one;
    }

  private:
    static void put_in_place(sqlite3_syscall_ptr call) {
        sqlite3_vfs* system = sqlite3_vfs_find(nullptr);
        for (const char* name : {"pwrite", "pwrite64"}) system->xSetSystemCall(system, name, call);
    }
    static ssize_t write(int file, const void* bytes, std::size_t size, off_t at) {
        ++writes();
        if (slow_ms() > 0) std::this_thread::sleep_for(std::chrono::milliseconds(slow_ms()));
        if (!refuses()) return ::pwrite(file, bytes, size, at);
        errno = EROFS;
        return -1;
    }
};

}  // namespace seatwright::server
