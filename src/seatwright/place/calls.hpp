// What a place asks of the operating system, one method a call, so that a test can have any of them fail, or
// end the program there. Each answers as the call itself does: -1 with errno set. Names are of one folder
// held open, never paths: a share mounted elsewhere meanwhile is not written to by mistake.
#pragma once

#include <sys/types.h>

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace seatwright::place {

enum class Call { mounted, open_folder, list, open_old, look, read, open_new, write, flush, rename, remove };

// Which file a name or an open file stands for, and whether it is still as it was.
struct Identity {
    dev_t device = 0;
    ino_t number = 0;
    off_t size = 0;
    long long changed_ns = 0;
    bool regular = false;
    bool operator==(const Identity&) const = default;
};

class Calls {
  public:
    Calls() = default;
    virtual ~Calls() = default;
    Calls(const Calls&) = delete;
    Calls& operator=(const Calls&) = delete;

    // Whether something is mounted on that path. None: it cannot be looked at.
    virtual std::optional<bool> mounted(const std::string& path);
    virtual int open_folder(const std::string& path);
    virtual std::optional<std::vector<std::string>> list(int folder);
    // To be read; a link is not followed.
    virtual int open_old(int folder, const std::string& name);
    virtual std::optional<Identity> look(int file);
    virtual std::optional<Identity> look(int folder, const std::string& name);
    virtual ssize_t read(int file, char* to, std::size_t size);
    // To be written; it must not be there yet.
    virtual int open_new(int folder, const std::string& name);
    virtual ssize_t write(int file, std::string_view bytes);
    // To the disk; of a folder where the file system knows no such thing: done.
    virtual int flush(int file);
    // Asked of the disk again, not of what memory holds of it, when it is next read.
    virtual void forget(int file);
    // EEXIST where something has that name already.
    virtual int rename(int folder, const std::string& from, const std::string& to);
    virtual int remove(int folder, const std::string& name);
    virtual void close(int file);

  protected:
    // Called before each; anything but 0 is the errno it fails with instead.
    virtual int before(Call) { return 0; }

  private:
    bool fails(Call call);
};

}  // namespace seatwright::place
