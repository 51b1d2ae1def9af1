// The casting command: what a job and its records have taught of the casting, as a file shops can hand on.
#include <fmt/format.h>

#include <cstdio>
#include <filesystem>
#include <nlohmann/json.hpp>

#include "cli/commands.hpp"
#include "cli/files.hpp"
#include "cli/load.hpp"
#include "cli/own_file.hpp"
#include "cli/say.hpp"
#include "seatwright/base/progress_line.hpp"
#include "seatwright/casting/casting.hpp"
#include "seatwright/job/reader.hpp"
#include "seatwright/job/text.hpp"

namespace seatwright::cli {

int casting(const Asked& asked) {
    auto job = load_for(asked, {job::Stage::hold, job::Stage::find});
    if (!job) return exit_input;
    casting::Texts texts;
    texts.job = read_file(asked.job, job::max_file_bytes).value_or("");
    if (const auto named = job::read_text(texts.job).root().find("casting").text()) {
        texts.casting_file = (std::filesystem::path(asked.job).parent_path() / *named).string();
        texts.casting = read_file(texts.casting_file, job::max_file_bytes).value_or("");
    }
    plan::Run run(std::make_shared<const job::Job>(std::move(*job)), {});
    const auto out = with_progress_line("gathering what the heads have taught",
                                        [&] { return casting::exported(run, texts); });
    if (!out) {
        print_faults(out.error());
        return exit_input;
    }
    if (const auto written = write_own_file(asked.out, out->text, asked.replace ? Over::anything : Over::own);
        !written) {
        fmt::print(stderr, "--out: {} {}\n", asked.out, written.error());
        return exit_input;
    }
    if (asked.json) {
        say_json(
            {{"casting", out->name}, {"heads", out->heads}, {"seats", out->seats}, {"depths", out->depths}});
    } else {
        say(fmt::format("{}: {}; {} heads have taught, {} seats passed, depths of {} are known\n", asked.out,
                        out->name, out->heads, out->seats, out->depths));
    }
    return exit_done;
}

}  // namespace seatwright::cli
