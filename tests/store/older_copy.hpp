// An older copy of a database in the place of the newest, as a wrong restore or a standby that took over
// leaves it; and the folder a service has from systemd, for as long as this lives.
#pragma once

#include <stdlib.h>

#include <string>

#include "cluster.hpp"

namespace seatwright::store {

// The database as it is now, to stand in its place later. Nobody may be at it.
class OlderCopy {
  public:
    OlderCopy(Cluster& cluster, const std::string& name)
        : cluster_(cluster), name_(name), copy_(name + "_older") {
        cluster_.run("postgres", "create database " + copy_ + " template " + name_ + " owner shop_owner");
    }
    std::string place() const { return cluster_.url(copy_); }
    // Who is at the newest loses the connection.
    void put_in_place() {
        cluster_.run("postgres", "drop database " + name_ + " with (force)");
        cluster_.run("postgres", "alter database " + copy_ + " rename to " + name_);
    }

  private:
    Cluster& cluster_;
    std::string name_, copy_;
};

class StateFolder {
  public:
    StateFolder() { ::setenv("STATE_DIRECTORY", folder_.path().c_str(), 1); }
    std::string path() const { return folder_.path(); }
    ~StateFolder() { ::unsetenv("STATE_DIRECTORY"); }
    StateFolder(const StateFolder&) = delete;
    StateFolder& operator=(const StateFolder&) = delete;

  private:
    TestFolder folder_;
};

}  // namespace seatwright::store
