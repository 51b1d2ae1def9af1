// The answer of an agent over http as its bytes come, by Boost.Beast's parser: chunked or not, of a length
// said before or until the connection ends.
#pragma once

#include <memory>
#include <string>
#include <string_view>

#include "seatwright/words/part.hpp"

namespace seatwright::server {

class AnswerReader {
  public:
    AnswerReader();
    ~AnswerReader();
    AnswerReader(const AnswerReader&) = delete;
    AnswerReader& operator=(const AnswerReader&) = delete;

    // The bytes of the body that these make known.
    std::string add(std::string_view bytes);
    // The connection ended: what has no length is whole then.
    void end();
    bool head_known() const;
    bool whole() const;
    int status() const;
    std::string content_type() const;
    // Says something: it is no http.
    const Sentence& fault() const { return fault_; }

  private:
    struct Parser;
    std::unique_ptr<Parser> parser_;
    std::string held_;
    Sentence fault_;
};

}  // namespace seatwright::server
