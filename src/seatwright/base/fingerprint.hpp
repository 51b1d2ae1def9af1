// What something was made from, as 32 bytes: the same bytes are the same things. BLAKE2b-256 (RFC 7693).
#pragma once

#include <array>
#include <cstddef>
#include <cstring>
#include <optional>
#include <string>
#include <string_view>
#include <type_traits>
#include <vector>

#include "seatwright/base/growing_list.hpp"
#include "seatwright/base/vec.hpp"

namespace seatwright {

using Fingerprint = std::array<unsigned char, 32>;

// Takes values one after the other, numbers by their bits, texts and lists with their lengths, structs member
// by member (fields() as in job/fields.hpp, of the struct's own namespace). What is added in another order
// gives another fingerprint.
class FingerprintOf {
  public:
    template <class T>
    FingerprintOf& add(const T& value) {
        if constexpr (std::is_arithmetic_v<T> || std::is_enum_v<T>) {
            raw(&value, sizeof value);
        } else if constexpr (std::is_convertible_v<const T&, std::string_view>) {
            const std::string_view text = value;
            add(text.size());
            raw(text.data(), text.size());
        } else {
            take(value);
        }
        return *this;
    }
    Fingerprint end() const;

  private:
    void raw(const void* bytes, std::size_t size) {
        const std::size_t at = bytes_.size();
        bytes_.resize(at + size);
        std::memcpy(bytes_.data() + at, bytes, size);
    }
    template <class T>
    void take(const std::optional<T>& value) {
        add(value.has_value());
        if (value) add(*value);
    }
    template <class T>
    void take(const std::vector<T>& list) {
        add(list.size());
        for (const T& item : list) add(item);
    }
    // Of a long one by the print of its whole runs, which goes on from run to run and is made once.
    template <class T>
    void take(const GrowingList<T>& list) {
        add(list.size());
        const auto of_run = [](const T* first, const T* last, const Fingerprint* before) {
            FingerprintOf print;
            if (before != nullptr) print.raw(before->data(), before->size());
            for (; first != last; ++first) print.add(*first);
            return print.end();
        };
        auto [runs, at] = list.template noted<Fingerprint>(of_run);
        if (runs) raw(runs->data(), runs->size());
        for (; at < list.size(); ++at) add(list[at]);
    }
    template <class T, std::size_t n>
    void take(const std::array<T, n>& list) {
        for (const T& item : list) add(item);
    }
    template <int rows, int columns>
    void take(const Eigen::Matrix<double, rows, columns>& matrix) {
        static_assert(rows > 0 && columns > 0);
        raw(matrix.data(), sizeof(double) * static_cast<std::size_t>(rows * columns));
    }
    template <class T>
    requires std::is_class_v<T>
    void take(const T& value) {
        fields(value, [&](const auto&... members) { (add(members), ...); });
    }

    std::string bytes_;
};

}  // namespace seatwright
