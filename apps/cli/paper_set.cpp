#include "cli/paper_set.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/file.h>
#include <unistd.h>

#include <algorithm>

#include "cli/disk.hpp"
#include "cli/files.hpp"
#include "cli/part_files.hpp"
#include "seatwright/base/sha256.hpp"

namespace seatwright::cli {

namespace {

namespace fs = std::filesystem;

constexpr std::size_t most_bytes = std::size_t{256} << 20;  // of a file that is compared
constexpr int most_kept = 1000;                             // NAME.kept, NAME.kept-2, …

const char* role_word(PaperRole role) {
    return role == PaperRole::program ? "program" : "paper";
}

fs::path plain(const fs::path& folder) {
    const fs::path place = folder.lexically_normal();
    const fs::path named = place.has_filename() ? place : place.parent_path();
    return named.empty() ? fs::path(".") : named;
}

class Replacement {
  public:
    Replacement(fs::path root, const PaperSet& set)
        : root_(std::move(root)),
          set_(set),
          folder_(::open(root_.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC)) {
        if (folder_.get() >= 0) ::flock(folder_.get(), LOCK_EX);
    }

    tl::expected<Replaced, std::string> run(const std::vector<fs::path>& made) {
        if (folder_.get() < 0)
            return tl::unexpected(fmt::format("cannot open {}: {}", root_.string(), reason()));
        sweep_parts(root_);
        before_ = list_in(root_);
        std::vector<fs::path> parts;
        for (const auto& file : set_.files) parts.push_back(part_of(root_, file.name));
        const fs::path list_part = part_of(root_, paper_list_name);
        parts.push_back(list_part);
        UnfinishedParts unfinished(parts, made);
        auto done = carry_out(parts, list_part, unfinished);
        if (!done) unfinished.take_away();
        return done;
    }

  private:
    using Done = tl::expected<void, std::string>;

    Done cannot(const std::string& name, const std::string& why) const {
        return tl::unexpected(fmt::format("cannot write {}: {}", (root_ / name).string(), why));
    }

    tl::expected<Replaced, std::string> carry_out(const std::vector<fs::path>& parts,
                                                  const fs::path& list_part, UnfinishedParts& unfinished) {
        for (std::size_t i = 0; i < set_.files.size(); ++i)
            if (const auto done = write_flushed(parts[i], set_.files[i].bytes); !done)
                return tl::unexpected(cannot(set_.files[i].name, done.error()).error());
        unfinished.finishing();
        PaperList coming = listed();
        coming.state = PaperList::State::being_replaced;
        coming.papers.insert(coming.papers.end(), before_.papers.begin(), before_.papers.end());
        if (const auto done = put_list(coming, list_part); !done) return tl::unexpected(done.error());
        for (const auto role : {PaperRole::program, PaperRole::paper})
            if (const auto done = clear_old(role); !done) return tl::unexpected(done.error());
        for (const auto role : {PaperRole::paper, PaperRole::program})
            for (std::size_t i = 0; i < set_.files.size(); ++i)
                if (set_.files[i].role == role)
                    if (const auto done = put(parts[i], set_.files[i].name); !done)
                        return tl::unexpected(done.error());
        flush();
        if (const auto done = put_list(listed(), list_part); !done) return tl::unexpected(done.error());
        return std::move(replaced_);
    }

    // What is ours once this set stands: the other sets' papers, and these.
    PaperList listed() const {
        PaperList list;
        for (const auto& paper : before_.papers)
            if (paper.set != set_.what && !coming(paper.name)) list.papers.push_back(paper);
        for (const auto& file : set_.files)
            list.papers.push_back(
                {file.name, sha256(file.bytes), set_.digest, set_.what, role_word(file.role)});
        list.job = set_.firsts ? set_.firsts->job : before_.job;
        list.firsts = set_.firsts ? set_.firsts->firsts : before_.firsts;
        return list;
    }

    bool coming(const std::string& name) const {
        return std::any_of(set_.files.begin(), set_.files.end(),
                           [&](const OutFile& file) { return file.name == name; });
    }

    Done put_list(const PaperList& list, const fs::path& part) {
        if (const auto done = write_flushed(part, text_of(list)); !done)
            return cannot(paper_list_name, done.error());
        if (::rename(part.c_str(), (root_ / paper_list_name).c_str()) != 0)
            return cannot(paper_list_name, reason());
        flush();
        return {};
    }

    void flush() const { ::fsync(folder_.get()); }

    // Programs of the set before are removed even where one of that name comes again, so that those of two
    // plans never lie side by side; papers only where none comes. Anything changed since is kept.
    Done clear_old(PaperRole role) {
        for (const auto& paper : before_.papers) {
            if (paper.set != set_.what || paper.role != role_word(role)) continue;
            if (role == PaperRole::paper && coming(paper.name)) continue;
            if (const auto done = keep_foreign(paper.name); !done) return done;
            ::unlink((root_ / paper.name).c_str());
        }
        flush();
        return {};
    }

    // A file that is not as we wrote it goes aside.
    Done keep_foreign(const std::string& name) {
        std::error_code ec;
        const fs::path place = root_ / name;
        if (!fs::exists(fs::symlink_status(place, ec))) return {};
        const auto bytes = read_file(place, most_bytes);
        if (bytes && before_.ours(name, sha256(*bytes))) return {};
        for (int i = 1; i <= most_kept; ++i) {
            const std::string kept = name + (i == 1 ? ".kept" : fmt::format(".kept-{}", i));
            // A link, unlike a rename, does not replace what stands there.
            if (::link(place.c_str(), (root_ / kept).c_str()) != 0) {
                if (errno == EEXIST) continue;
                return cannot(name, "another file stands there and cannot be kept: " + reason());
            }
            ::unlink(place.c_str());
            replaced_.kept.push_back(kept);
            return {};
        }
        return cannot(name, "too many files of that name have been kept; clear them away");
    }

    Done put(const fs::path& part, const std::string& name) {
        if (const auto done = keep_foreign(name); !done) return done;
        if (::rename(part.c_str(), (root_ / name).c_str()) != 0) return cannot(name, reason());
        return {};
    }

    fs::path root_;
    const PaperSet& set_;
    Descriptor folder_;
    PaperList before_;
    Replaced replaced_;
};

}  // namespace

tl::expected<Replaced, std::string> replace_set(const fs::path& folder, const PaperSet& set) {
    const fs::path root = plain(folder);
    // A rename replaces anything but a folder: looked at before anything is done.
    std::error_code ec;
    for (const auto& file : set.files)
        if (fs::is_directory(fs::symlink_status(root / file.name, ec)))
            return tl::unexpected(fmt::format("cannot write {}: a folder of that name stands there",
                                              (root / file.name).string()));
    const auto made = make_folders(root);
    if (!made) return tl::unexpected(made.error());
    return Replacement(root, set).run(*made);
}

}  // namespace seatwright::cli
