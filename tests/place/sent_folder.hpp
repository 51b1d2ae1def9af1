// A folder of a control, made for a test, and an operating system that fails where it is told to.
#pragma once

#include <fstream>
#include <iterator>
#include <map>
#include <string>

#include "seatwright/base/sha256.hpp"
#include "seatwright/job/file_names.hpp"
#include "seatwright/place/folder.hpp"
#include "store/folder.hpp"

namespace seatwright::place {

class ControlFolder {
  public:
    Folder folder() const { return {own_.path()}; }
    void put(const std::string& name, const std::string& bytes) const {
        std::ofstream(own_.file(name), std::ios::binary) << bytes;
    }
    std::string path(const std::string& name) const { return own_.file(name); }
    // Every file with its bytes.
    std::map<std::string, std::string> all() const {
        std::map<std::string, std::string> files;
        for (const auto& one : std::filesystem::directory_iterator(own_.path())) {
            std::ifstream in(one.path(), std::ios::binary);
            files[one.path().filename().string()] = std::string(std::istreambuf_iterator<char>(in), {});
        }
        return files;
    }

  private:
    store::TestFolder own_;
};

// Fails the n-th call of a kind, from 1; the others go through.
class FailingCalls : public Calls {
  public:
    FailingCalls(Call call, int fault, int nth = 1) : call_(call), fault_(fault), left_(nth) {}
    bool failed() const { return left_ <= 0; }

  protected:
    int before(Call call) override { return call == call_ && --left_ == 0 ? fault_ : 0; }

  private:
    Call call_;
    int fault_, left_;
};

// As a file system without case: a name finds the file of that name in whatever letters.
class CaseBlindCalls : public Calls {
  public:
    using Calls::look;
    std::optional<Identity> look(int folder, const std::string& name) override {
        return Calls::look(folder, found(folder, name));
    }
    int open_old(int folder, const std::string& name) override {
        return Calls::open_old(folder, found(folder, name));
    }
    int rename(int folder, const std::string& from, const std::string& to) override {
        return Calls::rename(folder, found(folder, from), found(folder, to));
    }
    int remove(int folder, const std::string& name) override {
        return Calls::remove(folder, found(folder, name));
    }

  private:
    std::string found(int folder, const std::string& name) {
        for (const auto& one : Calls::list(folder).value_or(std::vector<std::string>{}))
            if (job::without_case(one) == job::without_case(name)) return one;
        return name;
    }
};

inline Held held(const std::string& name, const std::string& bytes, const Held& how = {}) {
    return {name, sha256(bytes), how.may_run, how.right};
}

inline const std::string first_program = "(program of head 7, cutter 1)\nG21 G90\nM30\n";
inline const std::string second_program = "(program of head 7, cutter 1, made anew)\nG21 G90\nG0 Z5\nM30\n";

}  // namespace seatwright::place
