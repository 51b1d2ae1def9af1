#include "server/answers/issued.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <functional>

#include "seatwright/base/sha256.hpp"

namespace seatwright::server {

namespace {

constexpr std::size_t letters = 16;

// Of what a page's foot says: "issue 2, in place of issue 1 of 2026-11-28 1f0c2b…".
std::string words_of_next(const store::Issue& before) {
    return fmt::format("issue {}, in place of issue {} of {} {}", before.number + 1, before.number,
                       store::iso_day(before.at_ms), before.sha256.substr(0, letters));
}

bool says_its_issue(const std::string& name) {
    return name == "sheet.pdf" || name == "certificate.pdf";
}

// `draw`: the bytes, with that in their foot. What was taken before is not drawn anew.
std::string kept(Workbench& bench, const store::Person& by, const store::PaperName& paper,
                 const std::function<std::string(const std::string&)>& draw) {
    const std::string plain = draw("");
    const std::string made_of = sha256(plain);
    for (;;) {
        const auto newest = bench.issues.newest(paper);
        if (newest && newest->made_of == made_of) return bench.issues.bytes(*newest);
        const std::string bytes = newest && says_its_issue(paper.file) ? draw(words_of_next(*newest)) : plain;
        // Else another one came between.
        if (bench.issues.keep(by, paper, made_of, bytes, newest)) return bytes;
    }
}

}  // namespace

std::string issued_bytes(Workbench& bench, const store::Person& by, const IssuedOf& of,
                         Computation& computation, const std::string& name, const PaperQuery& query) {
    const store::PaperName paper{of.job, is_of_proof(name) ? of.head : computation.head(), of.part,
                                 hangs_on_form(name) ? query.form() : "", name};
    return kept(bench, by, paper, [&](const std::string& issue) {
        PaperQuery asked = query;
        if (!issue.empty()) asked.record = issue + (query.record.empty() ? "" : " · " + query.record);
        return paper_bytes(computation, name, asked);
    });
}

void issue_program(Workbench& bench, const store::Person& by, const IssuedOf& of, const std::string& file,
                   const std::string& bytes) {
    kept(bench, by, {of.job, of.head, of.part, "", file}, [&](const std::string&) { return bytes; });
}

Json issues_json(Workbench& bench, long long job) {
    Json list = Json::array();
    const auto all = bench.issues.of_job(job);
    for (const auto& issue : all) {
        const bool newest = std::none_of(all.begin(), all.end(), [&](const store::Issue& other) {
            return other.replaces && *other.replaces == issue.id;
        });
        list.push_back({{"id", issue.id},
                        {"name", issue.paper.file},
                        {"head", issue.paper.head},
                        {"part", issue.paper.part},
                        {"form", issue.paper.form},
                        {"number", issue.number},
                        {"newest", newest},
                        {"replaces", issue.replaces ? Json(*issue.replaces) : Json(nullptr)},
                        {"sha256", issue.sha256},
                        {"by", issue.by},
                        {"at", store::iso_time(issue.at_ms)}});
    }
    return {{"issues", std::move(list)}};
}

}  // namespace seatwright::server
