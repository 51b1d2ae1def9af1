// What SQLite does to its files, noted one by one, and what a disk may hold of it when the power goes
// (torn_disk.hpp). A VFS of SQLite (sqlite.org/vfs.html) that hands everything on to the system's own.
#pragma once

#include <soci/sqlite3/soci-sqlite3.h>

#include <filesystem>
#include <fstream>
#include <mutex>
#include <random>
#include <string>
#include <utility>
#include <vector>

#include "torn_disk.hpp"

namespace seatwright::store {

using namespace sqlite_api;  // where SOCI has SQLite's own names

// While one lives, new connections to databases are noted. One at a time.
class NotedFiles {
  public:
    struct Op {
        // names: the folder is flushed, so that files made in it and removed from it are so for good.
        enum class Kind { write, truncate, sync, remove, names, mark } kind;
        std::string file;      // its path; of a mark: what was marked
        long long offset = 0;  // of a write; the length of a truncate
        std::string bytes;
    };

    NotedFiles() {
        log() = {};
        system_ = sqlite3_vfs_find(nullptr);
        vfs() = *system_;
        vfs().zName = "noted";
        vfs().pNext = nullptr;
        vfs().szOsFile = static_cast<int>(sizeof(File)) + system_->szOsFile;
        vfs().pAppData = system_;
        vfs().xOpen = open;
        vfs().xDelete = remove;
        sqlite3_vfs_register(&vfs(), 1);
    }
    ~NotedFiles() {
        sqlite3_vfs_unregister(&vfs());
        sqlite3_vfs_register(system_, 1);
    }
    NotedFiles(const NotedFiles&) = delete;
    NotedFiles& operator=(const NotedFiles&) = delete;

    // Something a person was told: it must be there after every later cut. `with`: kept beside it.
    static void mark(const std::string& what, const std::string& with = "") {
        note({Op::Kind::mark, what, 0, with});
    }
    static std::vector<Op> taken() {
        const std::lock_guard lock(mutex());
        return std::move(log());
    }

  private:
    struct File {
        sqlite3_file base;
        std::string* name;    // null: a file of passing use
        bool flushes_folder;  // SQLite's own flushes the folder with a new log's or journal's first sync
        sqlite3_file* real() { return reinterpret_cast<sqlite3_file*>(this + 1); }
    };
    static std::mutex& mutex() {
        static std::mutex one;
        return one;
    }
    static std::vector<Op>& log() {
        static std::vector<Op> all;
        return all;
    }
    static sqlite3_vfs& vfs() {
        static sqlite3_vfs one;
        return one;
    }
    static void note(Op op) {
        const std::lock_guard lock(mutex());
        log().push_back(std::move(op));
    }
    static sqlite3_vfs* system_of(sqlite3_vfs* own) { return static_cast<sqlite3_vfs*>(own->pAppData); }
    static File* of(sqlite3_file* file) { return reinterpret_cast<File*>(file); }

    static int open(sqlite3_vfs* own, const char* name, sqlite3_file* file, int flags, int* out) {
        File* f = of(file);
        f->name = name == nullptr ? nullptr : new std::string(name);
        constexpr int logs = SQLITE_OPEN_WAL | SQLITE_OPEN_MAIN_JOURNAL | SQLITE_OPEN_SUPER_JOURNAL;
        f->flushes_folder = (flags & SQLITE_OPEN_CREATE) != 0 && (flags & logs) != 0;
        f->base.pMethods = nullptr;
        const int status = system_of(own)->xOpen(system_of(own), name, f->real(), flags, out);
        if (f->real()->pMethods != nullptr)
            f->base.pMethods = &methods();
        else
            delete f->name;
        return status;
    }
    static int remove(sqlite3_vfs* own, const char* name, int flushed) {
        const int status = system_of(own)->xDelete(system_of(own), name, flushed);
        if (status != SQLITE_OK) return status;
        note({Op::Kind::remove, name, 0, {}});
        if (flushed != 0) note({Op::Kind::names, name, 0, {}});
        return status;
    }
    static int close(sqlite3_file* file) {
        delete of(file)->name;
        return of(file)->real()->pMethods->xClose(of(file)->real());
    }
    static int write(sqlite3_file* file, const void* bytes, int size, sqlite3_int64 at) {
        File* f = of(file);
        const int status = f->real()->pMethods->xWrite(f->real(), bytes, size, at);
        if (status == SQLITE_OK && f->name != nullptr)
            note({Op::Kind::write, *f->name, at,
                  std::string(static_cast<const char*>(bytes), static_cast<std::size_t>(size))});
        return status;
    }
    static int truncate(sqlite3_file* file, sqlite3_int64 size) {
        File* f = of(file);
        const int status = f->real()->pMethods->xTruncate(f->real(), size);
        if (status == SQLITE_OK && f->name != nullptr) note({Op::Kind::truncate, *f->name, size, {}});
        return status;
    }
    // The files themselves are not flushed: what counts is what is noted.
    static int sync(sqlite3_file* file, int) {
        File* f = of(file);
        if (f->name == nullptr) return SQLITE_OK;
        note({Op::Kind::sync, *f->name, 0, {}});
        if (std::exchange(f->flushes_folder, false)) note({Op::Kind::names, *f->name, 0, {}});
        return SQLITE_OK;
    }
    static int read(sqlite3_file* f, void* to, int size, sqlite3_int64 at) {
        return of(f)->real()->pMethods->xRead(of(f)->real(), to, size, at);
    }
    static int size(sqlite3_file* f, sqlite3_int64* bytes) {
        return of(f)->real()->pMethods->xFileSize(of(f)->real(), bytes);
    }
    static int lock(sqlite3_file* f, int level) {
        return of(f)->real()->pMethods->xLock(of(f)->real(), level);
    }
    static int unlock(sqlite3_file* f, int level) {
        return of(f)->real()->pMethods->xUnlock(of(f)->real(), level);
    }
    static int check(sqlite3_file* f, int* out) {
        return of(f)->real()->pMethods->xCheckReservedLock(of(f)->real(), out);
    }
    static int control(sqlite3_file* f, int op, void* arg) {
        return of(f)->real()->pMethods->xFileControl(of(f)->real(), op, arg);
    }
    static int sector(sqlite3_file* f) { return of(f)->real()->pMethods->xSectorSize(of(f)->real()); }
    static int device(sqlite3_file* f) {
        return of(f)->real()->pMethods->xDeviceCharacteristics(of(f)->real());
    }
    static int shm_map(sqlite3_file* f, int page, int bytes, int extend, void volatile** out) {
        return of(f)->real()->pMethods->xShmMap(of(f)->real(), page, bytes, extend, out);
    }
    static int shm_lock(sqlite3_file* f, int offset, int n, int flags) {
        return of(f)->real()->pMethods->xShmLock(of(f)->real(), offset, n, flags);
    }
    static void shm_barrier(sqlite3_file* f) { of(f)->real()->pMethods->xShmBarrier(of(f)->real()); }
    static int shm_unmap(sqlite3_file* f, int gone) {
        return of(f)->real()->pMethods->xShmUnmap(of(f)->real(), gone);
    }
    static const sqlite3_io_methods& methods() {
        static const sqlite3_io_methods all{
            2,       close,  read,   write,   truncate, sync,        size,      lock,    unlock, check,
            control, sector, device, shm_map, shm_lock, shm_barrier, shm_unmap, nullptr, nullptr};
        return all;
    }
    sqlite3_vfs* system_ = nullptr;
};

// What a disk may hold after the first `count` of these, of the files in their folder, written to `to`.
inline void write_after_power_cut(const std::vector<NotedFiles::Op>& ops, std::size_t count,
                                  std::mt19937& dice, const std::filesystem::path& to) {
    using Kind = NotedFiles::Op::Kind;
    TornDisk disk;
    for (std::size_t i = 0; i < count; ++i) {
        const auto& op = ops[i];
        if (op.kind == Kind::mark) continue;
        if ((op.kind == Kind::write || op.kind == Kind::truncate || op.kind == Kind::sync) &&
            !disk.has(op.file))
            disk.make(op.file);
        if (op.kind == Kind::write) disk.write(op.file, static_cast<std::size_t>(op.offset), op.bytes);
        if (op.kind == Kind::truncate) disk.truncate(op.file, static_cast<std::size_t>(op.offset));
        if (op.kind == Kind::sync) disk.flush(op.file);
        if (op.kind == Kind::remove) disk.remove(op.file);
        if (op.kind == Kind::names) disk.flush_names();
    }
    for (const auto& [file, bytes] : disk.after_a_cut(dice))
        std::ofstream(to / std::filesystem::path(file).filename(), std::ios::binary) << bytes;
}

}  // namespace seatwright::store
