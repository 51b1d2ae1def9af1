#include "seatwright/store/names.hpp"

#include <dlfcn.h>
#include <unicode/ucasemap.h>
#include <unicode/uspoof.h>
#include <unicode/uvernum.h>

#include <stdexcept>

namespace seatwright::store {

namespace {

// ICU is opened when the first names are compared: every command would pay for starting it. Its functions
// carry its version in their names, which its headers write for us.
#define NAME_OF(function) TEXT_OF(function)
#define TEXT_OF(name) #name

class Icu {
  public:
    Icu() {
        const char* file = "libicui18n.so." U_ICU_VERSION_SHORT;
        library_ = dlopen(file, RTLD_LAZY | RTLD_LOCAL);
        if (library_ == nullptr)
            throw std::runtime_error(std::string("names cannot be compared: ") + dlerror() +
                                     "; Debian has the library as libicu" U_ICU_VERSION_SHORT);
        take(NAME_OF(uspoof_getSkeletonUTF8), skeleton_);
        take(NAME_OF(ucasemap_utf8FoldCase), fold_);
        decltype(&::uspoof_open) open_checker = nullptr;
        decltype(&::ucasemap_open) open_map = nullptr;
        take(NAME_OF(uspoof_open), open_checker);
        take(NAME_OF(ucasemap_open), open_map);
        UErrorCode code = U_ZERO_ERROR;
        checker_ = open_checker(&code);
        map_ = open_map("", 0, &code);
        require(code);
    }

    std::string skeleton(const std::string& name) const {
        return text_of([&](char* out, int room, UErrorCode* code) {
            return skeleton_(checker_, 0, name.data(), static_cast<int>(name.size()), out, room, code);
        });
    }
    std::string without_capitals(const std::string& name) const {
        return text_of([&](char* out, int room, UErrorCode* code) {
            return fold_(map_, out, room, name.data(), static_cast<int>(name.size()), code);
        });
    }

  private:
    template <class Function>
    void take(const char* name, Function& into) {
        into = reinterpret_cast<Function>(dlsym(library_, name));
        if (into == nullptr) throw std::runtime_error(std::string("names cannot be compared: no ") + name);
    }
    static void require(UErrorCode code) {
        if (U_FAILURE(code)) throw std::runtime_error("names cannot be compared: ICU refuses them");
    }
    // Room is made for what ICU says it needs.
    template <class Make>
    static std::string text_of(Make&& make) {
        std::string out(256, '\0');
        while (true) {
            UErrorCode code = U_ZERO_ERROR;
            const int length = make(out.data(), static_cast<int>(out.size()), &code);
            const bool larger = code == U_BUFFER_OVERFLOW_ERROR;
            if (!larger) require(code);
            out.resize(static_cast<std::size_t>(length) + (larger ? 1 : 0));
            if (!larger) return out;
        }
    }

    void* library_ = nullptr;
    decltype(&::uspoof_getSkeletonUTF8) skeleton_ = nullptr;
    decltype(&::ucasemap_utf8FoldCase) fold_ = nullptr;
    USpoofChecker* checker_ = nullptr;  // kept as long as the program runs
    UCaseMap* map_ = nullptr;
};

#undef NAME_OF
#undef TEXT_OF

const Icu& icu() {
    static const Icu opened;
    return opened;
}

// Several blanks are read as one.
std::string single_blanks(const std::string& name) {
    std::string out;
    for (const char c : name)
        if (c != ' ' || (!out.empty() && out.back() != ' ')) out += c;
    return out;
}

}  // namespace

std::string one_name(const std::string& name) {
    return icu().skeleton(icu().without_capitals(single_blanks(name)));
}

bool look_alike(const std::string& a, const std::string& b) {
    return one_name(a) == one_name(b) || icu().skeleton(single_blanks(a)) == icu().skeleton(single_blanks(b));
}

}  // namespace seatwright::store
