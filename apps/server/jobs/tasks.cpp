#include "server/jobs/tasks.hpp"

#include <fmt/format.h>
#include <spdlog/spdlog.h>

#include "seatwright/store/chain.hpp"
#include "seatwright/store/fault_words.hpp"
#include "seatwright/store/people.hpp"
#include "seatwright/words/english_server.hpp"
#include "seatwright/words/in_words.hpp"

namespace seatwright::server {

bool TaskReport::progress(std::size_t done, std::size_t total, const std::string& sentence) {
    const std::lock_guard<std::mutex> lock(mutex_);
    state_.done = done;
    state_.total = total;
    state_.sentence = sentence;
    if (only_while_asked_ && Clock::now() - asked_ > longest_unasked) cancelled_ = true;
    return !cancelled_;
}

Tasks::~Tasks() {
    for (auto& [id, task] : tasks_) task.report->cancelled_ = true;
    for (auto& [id, task] : tasks_)
        if (task.thread.joinable()) task.thread.join();
}

std::size_t Tasks::running(TaskKind kind, std::optional<long long> person) {
    std::size_t count = 0;
    for (auto& [id, task] : tasks_) {
        if (task.kind != kind || (person && task.person != *person)) continue;
        const std::lock_guard<std::mutex> lock(task.report->mutex_);
        if (task.report->state_.state == "running") ++count;
    }
    return count;
}

void Tasks::forget_oldest() {
    for (auto at = order_.begin(); at != order_.end() && order_.size() > most_kept;) {
        Task& task = tasks_.at(*at);
        bool over = false;
        {
            const std::lock_guard<std::mutex> lock(task.report->mutex_);
            over = task.report->state_.state != "running";
        }
        if (!over) {
            ++at;
            continue;
        }
        if (task.thread.joinable()) task.thread.join();
        tasks_.erase(*at);
        at = order_.erase(at);
    }
}

store::Answer<TaskState> Tasks::start(long long person, TaskKind kind, Work work) {
    const std::lock_guard<std::mutex> lock(mutex_);
    if (kind == TaskKind::prepare && running(kind, person) > 0)
        return store::refuse(store::Why::bad,
                             "a job is being worked out for you already; wait for it, or stop it");
    if (running(kind, {}) >= most_running)
        return store::refuse(store::Why::bad, "two long tasks are under way already; wait for one of them");
    auto report = std::make_shared<TaskReport>();
    report->only_while_asked_ = kind == TaskKind::prepare;
    report->state_.id = store::random_hex(8);
    const TaskState first = report->state_;
    Task& task = tasks_[first.id];
    task.person = person;
    task.kind = kind;
    task.report = report;
    order_.push_back(first.id);
    // Of what was begun at a machine the work itself says how it ended.
    const bool says_itself = kind == TaskKind::send;
    task.thread = std::thread([report, says_itself, work = std::move(work)] {
        store::Answer<long long> answer = store::refuse(store::Why::bad, "");
        try {
            answer = work(*report);
        } catch (const store::Damaged& damaged) {
            answer = store::refuse(store::Why::bad, damaged.what());
        } catch (const std::exception& fault) {
            spdlog::error(fmt::format("task: {}", store::words_of(fault)));
            answer = store::refuse(store::Why::bad, in_words(sentence<"program-error">(), {}));
        }
        const std::lock_guard<std::mutex> report_lock(report->mutex_);
        TaskState& state = report->state_;
        const bool cancelled = report->cancelled_;
        state.state = answer ? "finished" : cancelled ? "cancelled" : "failed";
        if (answer && *answer > 0) state.job = *answer;
        state.sentence = answer                      ? "done"
                         : cancelled && !says_itself ? in_words(sentence<"cancelled">(), {})
                                                     : answer.error().text;
    });
    forget_oldest();
    return first;
}

std::optional<TaskState> Tasks::state(long long person, const std::string& id) {
    const std::lock_guard<std::mutex> lock(mutex_);
    const auto at = tasks_.find(id);
    if (at == tasks_.end() || at->second.person != person) return std::nullopt;
    const std::lock_guard<std::mutex> report_lock(at->second.report->mutex_);
    at->second.report->asked_ = TaskReport::Clock::now();
    return at->second.report->state_;
}

std::optional<TaskState> Tasks::cancel(long long person, const std::string& id) {
    {
        const std::lock_guard<std::mutex> lock(mutex_);
        const auto at = tasks_.find(id);
        if (at == tasks_.end() || at->second.person != person) return std::nullopt;
        at->second.report->cancelled_ = true;
    }
    return state(person, id);
}

}  // namespace seatwright::server
