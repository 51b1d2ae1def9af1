#include "seatwright/store/issues.hpp"

#include <fmt/format.h>

#include <limits>
#include <map>

#include "seatwright/base/sha256.hpp"
#include "seatwright/store/chain.hpp"
#include "seatwright/store/columns.hpp"
#include "seatwright/store/deflated.hpp"
#include "seatwright/store/digest_field.hpp"
#include "seatwright/store/ledger.hpp"

namespace seatwright::store {

namespace {

constexpr std::size_t shown = 16;  // letters of a digest

struct Row {
    Issue issue;
    long long made_by = 0;
    std::string digest;
};

std::string digest_of(const Row& row, const std::string& before) {
    const Issue& i = row.issue;
    std::string all = before;
    for (const long long number : {i.paper.job, i.number, i.at_ms, row.made_by})
        put(all, std::optional(number));
    put(all, i.replaces);
    for (const auto* text :
         {&i.paper.head, &i.paper.part, &i.paper.form, &i.paper.file, &i.made_of, &i.sha256})
        put(all, *text);
    return sha256(all);
}

// Issues i of a job that `rest` names by its bind.
std::vector<Row> select_issues(Sql& sql, const std::string& rest, long long job, long long id) {
    Row row;
    Issue& i = row.issue;
    NullableNumber replaces;
    soci::statement rows =
        (sql.prepare
             << "select i.id, i.job_id, i.head, i.part, i.form, i.file_name, i.number, i.made_of, i.sha256, "
                "i.made_ms, i.made_by, p.name, i.replaces, i.digest from issue i join person p on p.id = "
                "i.made_by where i.job_id = :job and " +
                    rest,
         soci::use(job), soci::use(id), soci::into(i.id), soci::into(i.paper.job), soci::into(i.paper.head),
         soci::into(i.paper.part), soci::into(i.paper.form), soci::into(i.paper.file), soci::into(i.number),
         soci::into(i.made_of), soci::into(i.sha256), soci::into(i.at_ms), soci::into(row.made_by),
         soci::into(i.by), soci::into(replaces.value, replaces.state), soci::into(row.digest));
    std::vector<Row> all;
    rows.execute();
    while (rows.fetch()) {
        i.replaces = replaces.get();
        all.push_back(row);
    }
    return all;
}

std::string digest_before(Sql& sql, long long job, long long id) {
    std::string digest;
    sql << "select digest from issue where job_id = :job and id < :id order by id desc limit 1",
        soci::use(job), soci::use(id), soci::into(digest);
    return sql.got_data() ? digest : no_entry_before;
}

std::string name_of(const Issue& issue) {
    return fmt::format("job {}: issue {} of {}", issue.paper.job, issue.number, issue.paper.file);
}

std::optional<Row> newest_row(Sql& sql, const PaperName& paper) {
    long long id = 0;
    sql << "select id from issue where job_id = :job and head = :head and part = :part and form = :form and "
           "file_name = :file order by number desc limit 1",
        soci::use(paper.job), soci::use(paper.head), soci::use(paper.part), soci::use(paper.form),
        soci::use(paper.file), soci::into(id);
    if (!sql.got_data()) return std::nullopt;
    return select_issues(sql, "i.id = :id", paper.job, id).at(0);
}

std::optional<std::string> stored_bytes(Sql& sql, const std::string& digest) {
    std::string body;
    long long size = 0;
    sql << "select body, size from issue_body where sha256 = :digest", soci::use(digest), soci::into(body),
        soci::into(size);
    if (!sql.got_data() || size < 0) return std::nullopt;
    auto bytes = bytes_of_deflated(body, static_cast<std::size_t>(size));
    return bytes && sha256(*bytes) == digest ? bytes : std::nullopt;
}

void keep_bytes(Sql& sql, const std::string& digest, const std::string& bytes) {
    const std::string body = deflated_text(bytes);
    const auto size = static_cast<long long>(bytes.size());
    sql << "insert into issue_body (sha256, body, size) values (:digest, :body, :size) on conflict do "
           "nothing",
        soci::use(digest), soci::use(body), soci::use(size);
}

// Throws Damaged.
void require_row(Sql& sql, const Row& row) {
    if (digest_of(row, digest_before(sql, row.issue.paper.job, row.issue.id)) == row.digest) return;
    throw Damaged(name_of(row.issue) +
                  " is not as it was stored and is not handed out; restore the newest backup from before the "
                  "damage into an empty folder, and look at the disk");
}

}  // namespace

std::optional<Issue> Issues::newest(const PaperName& paper) {
    return database_.read([&](Sql& sql) -> std::optional<Issue> {
        const auto row = newest_row(sql, paper);
        return row ? std::optional(row->issue) : std::nullopt;
    });
}

std::optional<Issue> Issues::keep(const Person& by, const PaperName& paper, const std::string& made_of,
                                  const std::string& bytes, const std::optional<Issue>& before) {
    return database_.write([&](Sql& sql) -> std::optional<Issue> {
        const auto newest = newest_row(sql, paper);
        if ((newest ? newest->issue.id : 0) != (before ? before->id : 0)) return std::nullopt;
        Row row;
        Issue& i = row.issue;
        i.paper = paper;
        i.number = before ? before->number + 1 : 1;
        i.made_of = made_of;
        i.sha256 = sha256(bytes);
        i.at_ms = now_ms();
        i.by = by.name;
        row.made_by = by.id;
        if (before) i.replaces = before->id;
        keep_bytes(sql, i.sha256, bytes);
        const long long last = std::numeric_limits<long long>::max();
        row.digest = digest_of(row, digest_before(sql, paper.job, last));
        NullableNumber replaces(i.replaces);
        sql << "insert into issue (job_id, head, part, form, file_name, number, made_of, sha256, made_ms, "
               "made_by, replaces, digest) values (:job, :head, :part, :form, :file, :number, :of, :sha, "
               ":now, :by, :replaces, :digest) returning id",
            soci::use(paper.job), soci::use(paper.head), soci::use(paper.part), soci::use(paper.form),
            soci::use(paper.file), soci::use(i.number), soci::use(i.made_of), soci::use(i.sha256),
            soci::use(i.at_ms), soci::use(by.id), soci::use(replaces.value, replaces.state),
            soci::use(row.digest), soci::into(i.id);
        note(sql, {by.id, paper.job, {}, {}},
             fmt::format("issue {} of {}{} (SHA-256 {})", i.number, paper.file,
                         before ? fmt::format(", in place of issue {}", before->number) : "",
                         i.sha256.substr(0, shown)));
        return i;
    });
}

std::vector<Issue> Issues::of_job(long long job) {
    return database_.read([&](Sql& sql) {
        std::vector<Issue> all;
        for (auto& row : select_issues(sql, "i.id > :least order by i.id desc", job, 0))
            all.push_back(std::move(row.issue));
        return all;
    });
}

std::optional<Issue> Issues::one(long long job, long long id) {
    return database_.read([&](Sql& sql) -> std::optional<Issue> {
        const auto rows = select_issues(sql, "i.id = :id", job, id);
        return rows.empty() ? std::nullopt : std::optional(rows.front().issue);
    });
}

std::string Issues::bytes(const Issue& issue) {
    return database_.read([&](Sql& sql) {
        require_row(sql, select_issues(sql, "i.id = :id", issue.paper.job, issue.id).at(0));
        auto bytes = stored_bytes(sql, issue.sha256);
        if (!bytes)
            throw Damaged(
                name_of(issue) +
                ": its bytes are not as they were stored and are not handed out; restore the newest "
                "backup from before the damage into an empty folder, and look at the disk");
        return std::move(*bytes);
    });
}

std::optional<std::string> damage_of_issues(Sql& sql, long long job) {
    std::string before = no_entry_before;
    std::map<std::string, long long> newest;  // number of each paper's
    for (const Row& row : select_issues(sql, "i.id > :least order by i.id", job, 0)) {
        const PaperName& p = row.issue.paper;
        auto& number = newest[fmt::format("{}\n{}\n{}\n{}", p.head, p.part, p.form, p.file)];
        if (digest_of(row, before) != row.digest || row.issue.number != ++number)
            return name_of(row.issue) + " is not as it was stored, or one before it is gone";
        if (!stored_bytes(sql, row.issue.sha256))
            return name_of(row.issue) + ": its bytes are not as they were stored";
        before = row.digest;
    }
    return std::nullopt;
}

}  // namespace seatwright::store
