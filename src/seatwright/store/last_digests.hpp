// The number and digest of each job's last entry and of its last text, and of the shelf's last text, in a
// small file beside the database. It is written after the commit and before the answer, and not flushed: a
// power cut may leave it behind the database, never ahead. So a database that is behind it has lost what was
// acknowledged: an older copy put in its place, or its log deleted; of a database server also a standby that
// took over without having heard of the last commits.
//
// The file: a line of fixed length for each job's entries and one for its texts, with a check of its own. A
// line that cannot be read says nothing. Without the file (data from before, a restored backup) it is made
// from the database.
//
// Of a database server each of ours keeps one on its own machine, with what it has acknowledged itself and
// what it has heard of the others.
#pragma once

#include <map>
#include <mutex>
#include <string>
#include <vector>

#include "seatwright/store/database.hpp"

namespace seatwright::store {

class LastDigests {
  public:
    // `place` and `shop`: the data's (database.hpp). Opens or makes its file, and holds what it says against
    // the database: jobs that do not agree are damaged.
    LastDigests(const std::string& place, long long shop, Sql& sql);
    ~LastDigests();
    LastDigests(const LastDigests&) = delete;
    LastDigests& operator=(const LastDigests&) = delete;

    // An entry was committed. Older ones than the last known are passed over. Thread-safe.
    void note(long long job, long long sequence, const std::string& digest);
    // A version of a job's text, or of the shelf (job 0: store/text_chain.hpp).
    void note_text(long long job, long long version, const std::string& digest);

    // Throws Damaged for a job that did not agree with its line when the data was opened.
    void require_whole(long long job) const;
    // A sentence for each such job, by its number (0: the shelf); those that have fewer entries or texts than
    // were acknowledged (the whole database is then of another day), and those whose last one is another.
    std::map<long long, std::string> behind() const;
    std::map<long long, std::string> other() const;

    // Compares again: the database has been away, and another may stand in its place. Thread-safe.
    void look_again(Database& database);

    // Empty: nothing is kept or compared.
    const std::string& file() const { return file_; }
    static std::string file_beside(const std::string& database_file);
    // Of a database server: in the folder that belongs to the service (STATE_DIRECTORY, systemd.exec(5)), one
    // for each database and shop; empty without such a folder.
    static std::string file_of_server(const std::string& url, long long shop);
    // The first folder systemd gives the service; empty without one.
    static std::string service_folder();

  private:
    struct Line {
        long long place = 0, sequence = 0;
        std::string digest;
    };
    struct Found {
        std::map<long long, std::string> behind, other;
        void compare_entries(Sql& sql, long long job, const Line& line);
        void compare_texts(Sql& sql, long long job, const Line& line);
    };
    using Lines = std::map<long long, Line>;  // by the job; its texts by the job and texts_of
    static Found compared(Sql& sql, const Lines& lines);
    void open(bool alone);
    void put(long long key, long long number, const std::string& digest);
    void read();
    void make(Sql& sql);
    void write(long long job, const Line& line) const;

    bool of_server_;
    std::string file_;
    int handle_ = -1;
    mutable std::mutex mutex_;
    Lines lines_;
    long long end_ = 0;  // of the file, where the next line goes
    Found found_;
};

}  // namespace seatwright::store
