/* What file work needs beyond C17, each call once and with one meaning.
 *
 * Files are small whole numbers (descriptors), names are paths as the system takes them. A call that can fail returns -1 or
 * false and leaves the reason in errno; an interruption by a signal is no failure and is tried again here. Another system brings
 * its own files_<system>.c with these functions. Nothing here knows of campaigns, statuses or words. */
#ifndef HF_PLATFORM_FILES_H
#define HF_PLATFORM_FILES_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

typedef enum hf_platform_kind {
    HF_PLATFORM_REGULAR,
    HF_PLATFORM_FOLDER,
    HF_PLATFORM_PIPE,
    HF_PLATFORM_LINK, /* symbolic; only where the link itself is looked at */
    HF_PLATFORM_OTHER /* a device, a socket */
} hf_platform_kind;

/* One file. Device and inode together say which one it is, whatever its name. */
typedef struct hf_platform_about {
    hf_platform_kind kind;
    uint64_t device, inode;
    uint64_t names; /* hard links */
    unsigned owner, group;
    unsigned mode;     /* the nine bits of reading, writing and running; no setuid, setgid, sticky */
    int64_t changed_s; /* last change of the content, seconds */
} hf_platform_about;

/* Of the file that `path` leads to; of the link itself; of an open file. */
bool hf_platform_look(const char *path, hf_platform_about *out);
bool hf_platform_look_at_link(const char *path, hf_platform_about *out);
bool hf_platform_look_open(int file, hf_platform_about *out);

bool hf_platform_same_file(const hf_platform_about *a, const hf_platform_about *b);

/* Whether the file belongs to whoever runs the program. */
bool hf_platform_is_ours(const hf_platform_about *about);

/* The name without links, "." and ".."; malloc'ed. NULL when there is no such file. */
char *hf_platform_real_name(const char *path);

/* Whether whoever runs the program may write the file, and anybody may: a file without any right to write is read-only for the
 * superuser too, whom the system would let through. */
bool hf_platform_may_write(const char *path, const hf_platform_about *about);

/* Opens for reading; for writing what is there; for reading and appending, *made when there was none; a file that must not exist yet.
 * The system takes the mask of the process off the mode of a new one. -1 on failure. */
int hf_platform_open_read(const char *path);
int hf_platform_open_write(const char *path);
int hf_platform_open_append(const char *path, unsigned mode, bool *made);
int hf_platform_open_fresh(const char *path, unsigned mode);

/* Bytes read, 0 at the end, -1 on failure. */
long hf_platform_read(int file, char *bytes, size_t size);

/* The last byte of an open file into *byte: 1, 0 when the file is empty, -1 on failure. */
int hf_platform_last_byte(int file, char *byte);

/* All of bytes[0..length), or false. */
bool hf_platform_write(int file, const char *bytes, size_t length);

/* Gives owner, group and mode of `like`. Where the group cannot be given, its rights shrink to those of everybody. False only when
 * the mode cannot be set. */
bool hf_platform_give_rights(int file, const hf_platform_about *like);

bool hf_platform_sync(int file);
bool hf_platform_close(int file);
bool hf_platform_rename(const char *from, const char *to);
bool hf_platform_link(const char *from, const char *to);
bool hf_platform_remove(const char *path);

/* Whether errno says that this file system knows no hard links; that the disk or the share of this user is full. */
bool hf_platform_no_links(void);
bool hf_platform_no_room(void);

/* The name a rename has made is safe on the disk only when its folder is. Not every file system can; that is no failure. */
void hf_platform_sync_folder(const char *path);

/* Takes the open file for this process alone; false when another has it (*taken), or on failure. It ends with hf_platform_close, and
 * with the process however that ends. */
bool hf_platform_take(int file, bool *taken);

/* Calls visit(folder, name, context) for each name in the folder of `path`. */
void hf_platform_each_beside(const char *path,
                             void (*visit)(const char *folder, const char *name, void *context),
                             void *context);

/* Sixteen hexadecimal digits that no other call gives again, here or in another process. */
void hf_platform_unique(char out[17]);

#endif
