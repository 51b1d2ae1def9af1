// What a disk may hold of a folder when the power goes. Of a file: what was flushed, and of what was written
// since nothing, all, or any sectors. Of names: those that stood when the folder was last flushed, and of
// what was changed in them since any part, in its order.
#pragma once

#include <cstddef>
#include <functional>
#include <map>
#include <random>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace seatwright {

class TornDisk {
  public:
    using Files = std::map<std::string, std::string>;

    // Flushed files that stand there at first.
    explicit TornDisk(const Files& before = {}) {
        for (const auto& [name, bytes] : before) flushed_[name] = add({bytes, {}});
        names_ = flushed_;
    }

    bool has(const std::string& name) const { return names_.contains(name); }
    // An empty file in place of one of that name.
    void make(const std::string& name) {
        change([name, number = add({})](Names& names) { names[name] = number; });
    }
    void write(const std::string& name, std::size_t at, std::string bytes) {
        file(name).pending.push_back({at, std::move(bytes), false});
    }
    void append(const std::string& name, const std::string& bytes) {
        write(name, written(file(name)).size(), bytes);
    }
    void truncate(const std::string& name, std::size_t size) {
        file(name).pending.push_back({size, {}, true});
    }
    void flush(const std::string& name) {
        File& one = file(name);
        one.flushed = written(one);
        one.pending.clear();
    }
    void rename(const std::string& from, const std::string& to) {
        change([from, to, number = names_.at(from)](Names& names) {
            names.erase(from);
            names[to] = number;
        });
    }
    void link(const std::string& from, const std::string& to) {
        change([to, number = names_.at(from)](Names& names) { names[to] = number; });
    }
    void remove(const std::string& name) {
        change([name](Names& names) { names.erase(name); });
    }
    void flush_names() {
        flushed_ = names_;
        changes_.clear();
    }

    Files after_a_cut(std::mt19937& dice) const {
        Names names = flushed_;
        for (const auto& one : changes_)
            if (dice() % 2 == 0) one(names);
        Files found;
        for (const auto& [name, number] : names) found[name] = torn(files_[number], dice);
        return found;
    }

  private:
    struct Write {
        std::size_t at;  // of a truncation: the new length
        std::string bytes;
        bool truncates;
    };
    struct File {
        std::string flushed;
        std::vector<Write> pending;
    };
    using Names = std::map<std::string, std::size_t>;
    using Change = std::function<void(Names&)>;
    static constexpr std::size_t sector = 512;

    std::size_t add(File one) {
        files_.push_back(std::move(one));
        return files_.size() - 1;
    }
    File& file(const std::string& name) { return files_[names_.at(name)]; }
    void change(const Change& one) {
        one(names_);
        changes_.push_back(one);
    }
    static void put(std::string& bytes, std::size_t at, std::string_view what) {
        if (bytes.size() < at + what.size()) bytes.resize(at + what.size(), '\0');
        bytes.replace(at, what.size(), what);
    }
    static void apply(std::string& bytes, const Write& one) {
        if (one.truncates)
            bytes.resize(one.at, '\0');
        else
            put(bytes, one.at, one.bytes);
    }
    static std::string written(const File& one) {
        std::string bytes = one.flushed;
        for (const auto& w : one.pending) apply(bytes, w);
        return bytes;
    }
    static std::string torn(const File& one, std::mt19937& dice) {
        const auto mode = dice() % 3;  // none, all, any
        if (mode == 1) return written(one);
        std::string bytes = one.flushed;
        if (mode == 0) return bytes;
        for (const auto& w : one.pending) {
            if (w.truncates) {
                if (dice() % 2 == 0) apply(bytes, w);
                continue;
            }
            for (std::size_t at = 0; at < w.bytes.size(); at += sector)
                if (dice() % 2 == 0) put(bytes, w.at + at, std::string_view(w.bytes).substr(at, sector));
        }
        return bytes;
    }

    std::vector<File> files_;
    Names flushed_, names_;
    std::vector<Change> changes_;
};

}  // namespace seatwright
