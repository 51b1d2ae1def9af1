// The workbench server: the command line's `serve`, and what its neighbours need of the data folder.
#pragma once

#include <string>
#include <vector>

namespace seatwright::server {

struct ServeOptions {
    // Folder; made if absent, readable by its owner only. Or the URL of a database server, postgresql://….
    std::string data = "seatwright-data";
    long long shop = 1;            // on a database server: whose
    int port = 8137;               // 0 = any free one
    std::string listen;            // address to listen on; empty = loopback only
    std::string certificate, key;  // PEM files: speak TLS with these
    // On the network, with neither these nor a proxy, it makes certificates of its own
    // (http/own_certificate.hpp) for this machine's names and addresses and for these;
    std::vector<std::string> names;
    // at this port a page in the open serves the root of them (-1: the port after its own; 0: any free one);
    int trust_port = -1;
    bool unencrypted = false;  // or no TLS at all, which every page says
    bool behind_proxy =
        false;       // a proxy in front speaks TLS: cookies are marked Secure, X-Forwarded-For counts
    std::string as;  // root only: serve as that user, to whom the data then belongs; empty: as who starts it
    std::string backups;  // folder for nightly backups; empty: none are made
    int metrics_port =
        -1;  // on loopback: what is counted of it, for a program that watches; -1: none; 0: any
    bool log_lines = false;  // the log as lines of JSON, one for each answer
    bool open_page = false;  // ask the desktop to open the page once it is up
};

// Runs until SIGINT or SIGTERM. Prints the address, and plainly who can reach it. Returns the exit status: 0
// stopped as asked, 2 the options are at fault (one line on standard error), 1 our own error.
int serve(const ServeOptions& options);

// `seatwright migrate --data URL --server ROLE`: makes the tables of a database server, as the role in the
// URL, or brings them up to date, and lets ROLE work on them. Exit status as above.
int migrate_data(const std::string& url, const std::string& role);

// `seatwright backup --data DIR --out FILE`, also while a server runs on DIR; `seatwright restore --from FILE
// --data DIR [--until TIME]`. Exit status as above.
int backup_data(const std::string& folder, const std::string& out);
int restore_data(const std::string& from, const std::string& folder, const std::string& until = "");

// `seatwright export --data DIR|URL --out FILE [--customer NAME]`: everything of the shop or of one customer
// as a tar of plain files (answers/everything.hpp). Exit status as above.
int export_data(const ServeOptions& options, const std::string& out, const std::string& customer);

}  // namespace seatwright::server
