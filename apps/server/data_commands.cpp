// `seatwright backup`, `restore` and `export`.
#include <fmt/format.h>
#include <soci/soci.h>

#include <cstdio>
#include <filesystem>
#include <fstream>
#include <optional>

#include "seatwright/base/progress_line.hpp"
#include "seatwright/store/backup.hpp"
#include "seatwright/store/chain.hpp"
#include "seatwright/store/orders.hpp"
#include "seatwright/store/part_file.hpp"
#include "seatwright/store/passwords.hpp"
#include "seatwright/store/photographs.hpp"
#include "server/answers/everything.hpp"
#include "server/answers/store_json.hpp"
#include "server/command_end.hpp"
#include "server/intake/times.hpp"
#include "server/serve.hpp"

namespace seatwright::server {

namespace {

namespace fs = std::filesystem;

template <class Contents>
int report(const Contents& contents, const std::string& done) {
    if (!contents) {
        fmt::print(stderr, "{}\n", contents.error().text);
        return exit_input;
    }
    fmt::print("{}: {}; checked\n", done, store::to_words(*contents));
    for (const auto& words : contents->damage) fmt::print(stderr, "Damaged: {}\n", words);
    return contents->damage.empty() ? exit_done : exit_input;
}

// The file whole under its name, or not at all.
void export_to(const ServeOptions& options, const std::string& out, const std::string& customer) {
    const bool server = store::is_server_url(options.data);
    if (!server && !fs::is_regular_file(store::database_file(options.data)))
        throw BadOption(options.data + ": there is no data in this folder");
    if (fs::exists(out)) throw BadOption(out + ": is there already; it is not overwritten");
    store::start_sodium();
    store::Database database(server ? options.data : store::database_file(options.data),
                             {.connections = 2, .shop = options.shop});
    const auto photographs =
        server ? store::Photographs(database) : store::Photographs(store::photographs_folder(options.data));
    std::optional<long long> wanted;
    if (!customer.empty()) {
        for (const auto& one : store::Orders(database).customers())
            if (one.name == customer) wanted = one.id;
        if (!wanted) throw BadOption(fmt::format("there is no customer called '{}'", customer));
    }
    const store::PartFile part(out + ".part");
    bool written = false;
    {
        std::ofstream file(part.path(), std::ios::binary | std::ios::trunc);
        everything(database, photographs, wanted, [&](std::string_view bytes) {
            file.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
        });
        file.close();
        written = file.good();
    }
    std::error_code failed;
    if (written) fs::rename(part.path(), out, failed);
    if (written && !failed) return;
    throw BadOption(out + ": could not be written; is the disk full, or the folder not yours?");
}

// Those beside one data file to beside another: only what is not there yet.
int copy_photographs(const fs::path& from, const fs::path& to) {
    const auto copied = store::copy_photographs(store::photographs_folder(from.string()),
                                                store::photographs_folder(to.string()));
    if (!copied) {
        fmt::print(stderr, "{}\n", copied.error().text);
        return exit_input;
    }
    if (copied->all > 0)
        fmt::print("Photographs: {}, {} of them new in {}\n", copied->all, copied->made,
                   store::photographs_folder(to.string()));
    return exit_done;
}

}  // namespace

int backup_data(const std::string& folder, const std::string& out) {
    close_to_others();
    const int status = report(
        with_progress_line("copying the data", [&] { return store::backup(folder, out); }), "Backup " + out);
    return status == exit_done ? copy_photographs(folder, fs::path(out).parent_path()) : status;
}

int export_data(const ServeOptions& options, const std::string& out, const std::string& customer) {
    close_to_others();
    try {
        export_to(options, out, customer);
        fmt::print("{}: everything of {}\n", out, customer.empty() ? "the shop" : customer);
        return exit_done;
    } catch (const BadOption& fault) {
        fmt::print(stderr, "{}\n", fault.what());
    } catch (const store::Damaged& damaged) {
        fmt::print(stderr, "Damaged: {}\n", damaged.what());
    } catch (const soci::soci_error& fault) {
        fmt::print(stderr, "{}: {}\n", shown(options.data), fault.get_error_message());
    } catch (const std::runtime_error& fault) {
        fmt::print(stderr, "{}: {}\n", shown(options.data), fault.what());
    }
    return exit_input;
}

int restore_data(const std::string& from, const std::string& folder, const std::string& until) {
    close_to_others();
    const auto moment = ms_of_typed(until);
    if (!until.empty() && !moment) {
        fmt::print(stderr,
                   "--until: '{}' is no time; type it as 2026-11-28 14:30 or 2026-11-28T14:30:05 (this "
                   "machine's time), or with a Z behind it (UTC)\n",
                   until);
        return exit_input;
    }
    const auto put_back = [&] {
        return moment ? store::restore_until(from, folder, *moment) : store::restore(from, folder);
    };
    const int status =
        report(with_progress_line("putting the data back", put_back),
               moment ? fmt::format("Restored into {} as of {}", folder, store::iso_time(*moment))
                      : "Restored into " + folder);
    return status == exit_done ? copy_photographs(fs::path(from).parent_path(), folder) : status;
}

}  // namespace seatwright::server
