#include "seatwright/place/folder.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cerrno>
#include <set>

#include "seatwright/base/sha256.hpp"
#include "seatwright/job/file_names.hpp"
#include "seatwright/place/contents.hpp"
#include "seatwright/place/open_file.hpp"
#include "seatwright/place/trouble.hpp"
#include "seatwright/words/english_place.hpp"

namespace seatwright::place {

namespace {

bool plain(const std::string& name) {
    return !name.empty() && name.front() != '.' && name.front() != '-' &&
           std::all_of(name.begin(), name.end(), [](char c) {
               return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') ||
                      c == '-' || c == '.';
           });
}

// One of the record's, under the name it was sent by.
bool known(const std::vector<Held>& held, const There& there) {
    return std::any_of(held.begin(), held.end(), [&](const auto& one) {
        return one.sha256 == there.sha256 && !alike({one.name}, there.name).empty();
    });
}

// One visit of a folder; `result` grows as it goes, so that what was done before a trouble is told.
class Visit {
  public:
    Visit(Calls& calls, const Folder& folder)
        : calls_(calls), path_(folder.path), open_(calls, enter(folder)) {
        if (!result.stopped.empty()) return;
        if (!open_.open()) {
            stop(errno);
            return;
        }
        if (auto names = calls_.list(open_.handle()))
            names_ = std::move(*names);
        else
            stop(errno);
    }

    bool going() const { return result.stopped.empty(); }
    void check_names(const std::vector<ToSend>& files);
    void judge_held(const std::vector<Held>& held, const std::vector<ToSend>& files);
    void judge_begun(const std::vector<Begun>& begun);
    void judge_wanted(const std::vector<Held>& held, const std::vector<ToSend>& files);
    void remove_old();
    void write(const std::vector<ToSend>& files);

    Sending result;

  private:
    struct Old {
        There there;
        std::optional<Held> held;  // none: a temporary file
    };

    int enter(const Folder& folder);
    auto here() const { return "folder"_is = path_; }
    void stop(Sentence why) { result.stopped = std::move(why); }
    void stop(int fault) { stop(sentence<"folder">(here(), "trouble"_is = trouble_of(fault))); }
    template <Word Id>
    void stop(const std::string& file, int fault) {
        stop(sentence<Id>("file"_is = file, here(), "trouble"_is = trouble_of(fault)));
    }
    std::optional<There> read(const std::string& name);
    void judge_wanted(const std::vector<Held>& held, const ToSend& file, const std::string& name);
    bool is_old(const std::string& name) const;
    bool unchanged(const There& there);
    bool put(const ToSend& file);
    bool fill(const ToSend& file);
    bool check(const std::string& name, const ToSend& file);
    void take_back(const std::string& name, const ToSend& file);

    Calls& calls_;
    std::string path_;
    OpenFile open_;
    std::vector<std::string> names_;
    std::vector<Old> old_;         // to be removed
    std::set<std::string> there_;  // names of files to send that stand there already
    std::optional<Identity> own_;  // the file being written
};

int Visit::enter(const Folder& folder) {
    if (!folder.mount.empty()) {
        const auto mounted = calls_.mounted(folder.mount);
        if (!mounted) {
            stop(errno);
            return -1;
        }
        if (!*mounted) {
            stop(sentence<"nothing-mounted">("mount"_is = folder.mount, "folder"_is = folder.path));
            return -1;
        }
    }
    return calls_.open_folder(folder.path);
}

std::optional<There> Visit::read(const std::string& name) {
    auto there = contents(calls_, open_.handle(), name);
    if (!there) stop<"cannot-be-read">(name, errno);
    return there;
}

void Visit::check_names(const std::vector<ToSend>& files) {
    std::set<std::string> seen;
    for (const auto& file : files) {
        if (!plain(file.name) || !plain(file.temporary))
            return stop(sentence<"no-name">("file"_is = file.name));
        if (!seen.insert(job::without_case(file.name)).second)
            return stop(sentence<"names-alike">("file"_is = file.name));
    }
}

bool Visit::is_old(const std::string& name) const {
    return std::any_of(old_.begin(), old_.end(), [&](const auto& one) { return one.there.name == name; });
}

// What stands under the name of a file to be sent: the same bytes, one of ours that may go, or a reason to
// stop.
void Visit::judge_wanted(const std::vector<Held>& held, const ToSend& file, const std::string& name) {
    const auto there = read(name);
    if (!there) return;
    if (there->sha256 == sha256(file.bytes)) {
        there_.insert(file.name);
        return;
    }
    bool ours = false;
    for (const auto& one : held) {
        if (there->sha256.empty() || one.sha256 != there->sha256 || alike({one.name}, name).empty()) continue;
        if (one.may_run) return stop(sentence<"may-run">("file"_is = name, here()));
        ours = true;
        if (!is_old(name)) old_.push_back({*there, one});
    }
    if (!ours) stop(sentence<"not-ours">("file"_is = name, here()));
}

void Visit::judge_wanted(const std::vector<Held>& held, const std::vector<ToSend>& files) {
    for (const auto& file : files)
        for (const auto& name : alike(names_, file.name)) {
            judge_wanted(held, file, name);
            if (!going()) return;
        }
}

void Visit::judge_held(const std::vector<Held>& held, const std::vector<ToSend>& files) {
    for (const auto& one : held) {
        const auto found = alike(names_, one.name);
        bool is_there = false, strange = false;
        for (const auto& name : found) {
            const auto there = read(name);
            if (!there) return;
            strange = strange || !known(held, *there);
            if (there->sha256 != one.sha256) continue;
            is_there = true;
            const bool asked_for = std::any_of(files.begin(), files.end(), [&](const auto& file) {
                return !alike({file.name}, name).empty();
            });
            if (one.right || one.may_run || asked_for || is_old(name)) continue;
            old_.push_back({*there, one});
        }
        if (is_there) continue;
        result.gone.push_back(one);
        if (strange) result.notes.push_back(sentence<"not-as-sent">("file"_is = found.front(), here()));
    }
    result.looked = true;
}

void Visit::judge_begun(const std::vector<Begun>& begun) {
    for (const auto& one : begun) {
        const auto found = alike(names_, one.temporary);
        if (found.empty()) result.cleared.push_back(one.temporary);
        for (const auto& name : found) {
            auto there = read(name);
            if (!there) return;
            if (there->bytes && one.bytes.starts_with(*there->bytes)) {
                old_.push_back({std::move(*there), std::nullopt});
                continue;
            }
            result.notes.push_back(sentence<"left-by-a-sending">("file"_is = name, here()));
        }
    }
}

bool Visit::unchanged(const There& there) {
    const auto now = calls_.look(open_.handle(), there.name);
    return now && *now == there.identity;
}

void Visit::remove_old() {
    for (const auto& one : old_) {
        if (!unchanged(one.there))
            return stop(sentence<"changed-meanwhile">("file"_is = one.there.name, here()));
        if (calls_.remove(open_.handle(), one.there.name) != 0)
            return stop<"not-removed">(one.there.name, errno);
        if (one.held)
            result.removed.push_back(*one.held);
        else
            result.cleared.push_back(one.there.name);
    }
    if (!old_.empty() && calls_.flush(open_.handle()) != 0) stop(errno);
}

void Visit::write(const std::vector<ToSend>& files) {
    for (const auto& file : files) {
        const bool was_there = there_.count(file.name) > 0;
        if (!was_there && !put(file)) return;
        result.sent.push_back({file.name, sha256(file.bytes), was_there});
    }
}

// The temporary file, whole and on the disk.
bool Visit::fill(const ToSend& file) {
    OpenFile part(calls_, calls_.open_new(open_.handle(), file.temporary));
    if (!part.open()) {
        stop<"not-sent">(file.name, errno);
        return false;
    }
    own_ = calls_.look(part.handle());
    std::string_view left = file.bytes;
    while (!left.empty()) {
        const ssize_t written = calls_.write(part.handle(), left);
        if (written < 0 && errno == EINTR) continue;
        if (written <= 0) break;
        left.remove_prefix(static_cast<std::size_t>(written));
    }
    if (left.empty() && calls_.flush(part.handle()) == 0) return true;
    stop<"not-filled">(file.name, errno);
    return false;
}

// Whether the bytes under `name`, asked of the disk again, are those to be sent.
bool Visit::check(const std::string& name, const ToSend& file) {
    const auto there = contents(calls_, open_.handle(), name);
    if (!there)
        stop<"not-read-again">(file.name, errno);
    else if (there->sha256 != sha256(file.bytes))
        stop(sentence<"spoilt">(here(), "file"_is = file.name));
    return going();
}

void Visit::take_back(const std::string& name, const ToSend& file) {
    const auto now = calls_.look(open_.handle(), name);
    if (!now && errno == ENOENT) return;
    const bool same = now && own_ && now->device == own_->device && now->number == own_->number;
    if (same && calls_.remove(open_.handle(), name) == 0) {
        calls_.flush(open_.handle());
        return;
    }
    result.left = true;
    result.notes.push_back(name == file.name ? sentence<"part-may-be-left">("file"_is = name, here())
                                             : sentence<"temporary-may-be-left">("file"_is = name, here()));
}

bool Visit::put(const ToSend& file) {
    if (!fill(file) || !check(file.temporary, file)) {
        if (own_) take_back(file.temporary, file);
        own_.reset();
        return false;
    }
    if (calls_.rename(open_.handle(), file.temporary, file.name) != 0) {
        if (errno == EEXIST)
            stop(sentence<"another-came">("file"_is = file.name, here()));
        else
            stop<"not-sent">(file.name, errno);
        take_back(file.temporary, file);
        own_.reset();
        return false;
    }
    if (calls_.flush(open_.handle()) != 0) stop<"not-on-the-disk">(file.name, errno);
    if (!going() || !check(file.name, file)) take_back(file.name, file);
    own_.reset();
    return going();
}

}  // namespace

std::string temporary_name(unsigned chance) {
    constexpr unsigned six_digits = 0xffffff;
    return fmt::format("sw{:06x}.tmp", chance & six_digits);
}

Sending send(Calls& calls, const Folder& folder, const std::vector<Held>& held,
             const std::vector<Begun>& begun, const std::vector<ToSend>& files) {
    Visit visit(calls, folder);
    if (visit.going()) visit.check_names(files);
    if (visit.going()) visit.judge_wanted(held, files);
    if (visit.going()) visit.judge_held(held, files);
    if (visit.going()) visit.judge_begun(begun);
    if (visit.going()) visit.remove_old();
    if (visit.going()) visit.write(files);
    return std::move(visit.result);
}

Sending clear(Calls& calls, const Folder& folder, const std::vector<Held>& held,
              const std::vector<Begun>& begun) {
    return send(calls, folder, held, begun, {});
}

Sending look(Calls& calls, const Folder& folder, const std::vector<Held>& held) {
    Visit visit(calls, folder);
    if (visit.going()) visit.judge_held(held, {});
    return std::move(visit.result);
}

std::optional<std::string> mount_of(Calls& calls, const std::string& path) {
    for (std::string at = path; at.size() > 1; at.resize(std::max<std::size_t>(at.rfind('/'), 1))) {
        const auto mounted = calls.mounted(at);
        if (!mounted) return std::nullopt;
        if (*mounted) return at;
        if (at.rfind('/') == std::string::npos) break;
    }
    return "";
}

}  // namespace seatwright::place
