#include "platform/files.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <unistd.h>
#include "platform/files_memory.h"

/* One name, one file: no links, no folders, no rights. A file that is removed while it is open stays until it is closed. */
typedef struct memory_file {
    char *name; /* NULL: removed */
    char *bytes;
    size_t length, room;
    uint64_t number;
    unsigned open;
    struct memory_file *next;
} memory_file;

typedef struct opened {
    memory_file *file; /* NULL: free */
    size_t at;
    bool reads, writes;
} opened;

enum { STREAMS = 3, OPEN_MOST = 16 };

static memory_file *first;
static uint64_t numbers;
static opened table[OPEN_MOST];

static memory_file *find(const char *name) {
    memory_file *file = first;
    while (file && (!file->name || strcmp(file->name, name) != 0)) file = file->next;
    return file;
}

static bool fail(int reason) {
    errno = reason;
    return false;
}

static memory_file *add(const char *name) {
    memory_file *file = calloc(1, sizeof *file), **last = &first;
    char *copy = strdup(name);
    if (!file || !copy) {
        free(file);
        free(copy);
        errno = ENOMEM;
        return NULL;
    }
    file->name = copy;
    file->number = ++numbers;
    while (*last) last = &(*last)->next;
    *last = file;
    return file;
}

static void drop_if_unused(memory_file *file) {
    memory_file **link = &first;
    if (file->name || file->open) return;
    while (*link != file) link = &(*link)->next;
    *link = file->next;
    free(file->bytes);
    free(file);
}

static void take_name(memory_file *file) {
    free(file->name);
    file->name = NULL;
    drop_if_unused(file);
}

static bool append(memory_file *file, const char *bytes, size_t length) {
    if (length > SIZE_MAX / 4 - file->length) return fail(EFBIG);
    if (file->length + length > file->room) {
        size_t room = 2 * (file->length + length);
        char *more = realloc(file->bytes, room);
        if (!more) return fail(ENOMEM);
        file->bytes = more;
        file->room = room;
    }
    if (length) memcpy(file->bytes + file->length, bytes, length);
    file->length += length;
    return true;
}

bool hf_platform_memory_put(const char *name, const char *bytes, size_t length) {
    memory_file *file = find(name);
    if (!file) file = add(name);
    if (!file) return false;
    file->length = 0;
    return append(file, bytes, length);
}

const char *hf_platform_memory_at(size_t at, const char **bytes, size_t *length) {
    const memory_file *file = first;
    while (file && at-- > 0) file = file->next;
    if (!file) return NULL;
    *bytes = file->bytes;
    *length = file->length;
    return file->name;
}

void hf_platform_memory_forget_all(void) {
    memset(table, 0, sizeof table);
    while (first) {
        memory_file *next = first->next;
        free(first->name);
        free(first->bytes);
        free(first);
        first = next;
    }
}

static void tell(const memory_file *file, hf_platform_about *out) {
    *out = (hf_platform_about){.kind = HF_PLATFORM_REGULAR,
                               .inode = file->number,
                               .names = file->name != NULL,
                               .mode = 0644,
                               .changed_s = (int64_t)time(NULL)};
}

bool hf_platform_look(const char *path, hf_platform_about *out) {
    const memory_file *file = find(path);
    if (!file) return fail(ENOENT);
    tell(file, out);
    return true;
}

bool hf_platform_look_at_link(const char *path, hf_platform_about *out) {
    return hf_platform_look(path, out);
}

static opened *entry_of(int file) {
    bool known = file >= STREAMS && file < STREAMS + OPEN_MOST && table[file - STREAMS].file;
    if (!known) errno = EBADF;
    return known ? &table[file - STREAMS] : NULL;
}

bool hf_platform_look_open(int file, hf_platform_about *out) {
    const opened *entry = entry_of(file);
    if (entry) tell(entry->file, out);
    return entry != NULL;
}

bool hf_platform_same_file(const hf_platform_about *a, const hf_platform_about *b) {
    return a->inode == b->inode;
}

bool hf_platform_is_ours(const hf_platform_about *about) {
    (void)about;
    return true;
}

char *hf_platform_real_name(const char *path) {
    if (find(path)) return strdup(path);
    errno = ENOENT;
    return NULL;
}

bool hf_platform_may_write(const char *path, const hf_platform_about *about) {
    (void)path;
    (void)about;
    return true;
}

static int open_as(memory_file *file, bool reads, bool writes) {
    for (int i = 0; i < OPEN_MOST; i++) {
        if (table[i].file) continue;
        table[i] = (opened){file, 0, reads, writes};
        file->open++;
        return STREAMS + i;
    }
    errno = EMFILE;
    return -1;
}

static int open_known(const char *path, bool reads, bool writes) {
    memory_file *file = find(path);
    if (file) return open_as(file, reads, writes);
    errno = ENOENT;
    return -1;
}

int hf_platform_open_read(const char *path) {
    return open_known(path, true, false);
}

int hf_platform_open_write(const char *path) {
    return open_known(path, false, true);
}

int hf_platform_open_append(const char *path, unsigned mode, bool *made) {
    *made = find(path) == NULL;
    if (*made) return hf_platform_open_fresh(path, mode);
    return open_known(path, true, true);
}

int hf_platform_open_fresh(const char *path, unsigned mode) {
    (void)mode;
    memory_file *file = find(path);
    if (file) errno = EEXIST;
    file = file ? NULL : add(path);
    return file ? open_as(file, true, true) : -1;
}

/* Standard input has ended before it began. */
long hf_platform_read(int file, char *bytes, size_t size) {
    if (file == 0) return 0;
    opened *entry = entry_of(file);
    if (!entry) return -1;
    if (!entry->reads) return fail(EBADF) - 1;
    size_t left = entry->at < entry->file->length ? entry->file->length - entry->at : 0;
    size_t count = left < size ? left : size;
    if (count) memcpy(bytes, entry->file->bytes + entry->at, count);
    entry->at += count;
    return (long)count;
}

int hf_platform_last_byte(int file, char *byte) {
    const opened *entry = entry_of(file);
    if (!entry) return -1;
    if (entry->file->length == 0) return 0;
    *byte = entry->file->bytes[entry->file->length - 1];
    return 1;
}

/* The standard streams are whoever's that runs the program; a file that is open for writing grows at its end. */
bool hf_platform_write(int file, const char *bytes, size_t length) {
    while (file < STREAMS && length > 0) {
        ssize_t count = write(file, bytes, length);
        if (count <= 0) return false;
        bytes += count;
        length -= (size_t)count;
    }
    if (file < STREAMS) return true;
    const opened *entry = entry_of(file);
    if (!entry) return false;
    return entry->writes ? append(entry->file, bytes, length) : fail(EBADF);
}

bool hf_platform_give_rights(int file, const hf_platform_about *like) {
    (void)like;
    return entry_of(file) != NULL;
}

bool hf_platform_sync(int file) {
    return entry_of(file) != NULL;
}

bool hf_platform_close(int file) {
    opened *entry = entry_of(file);
    if (!entry) return false;
    memory_file *closed = entry->file;
    entry->file = NULL;
    closed->open--;
    drop_if_unused(closed);
    return true;
}

bool hf_platform_rename(const char *from, const char *to) {
    memory_file *file = find(from), *before = find(to);
    if (!file) return fail(ENOENT);
    char *name = strdup(to);
    if (!name) return fail(ENOMEM);
    if (before && before != file) take_name(before);
    free(file->name);
    file->name = name;
    return true;
}

bool hf_platform_link(const char *from, const char *to) {
    (void)from;
    (void)to;
    return fail(ENOSYS);
}

bool hf_platform_remove(const char *path) {
    memory_file *file = find(path);
    if (!file) return fail(ENOENT);
    take_name(file);
    return true;
}

bool hf_platform_no_links(void) {
    return errno == ENOSYS;
}

bool hf_platform_no_room(void) {
    return errno == ENOMEM || errno == EFBIG;
}

void hf_platform_sync_folder(const char *path) {
    (void)path;
}

/* There is nobody else. */
bool hf_platform_take(int file, bool *taken) {
    *taken = false;
    return entry_of(file) != NULL;
}

void hf_platform_each_beside(const char *path,
                             void (*visit)(const char *folder, const char *name, void *context),
                             void *context) {
    (void)path;
    (void)visit;
    (void)context;
}

void hf_platform_unique(char out[17]) {
    static uint64_t count;
    static const char digits[] = "0123456789abcdef";
    uint64_t x = ++count;
    for (int i = 15; i >= 0; i--, x >>= 4) out[i] = digits[x & 15];
    out[16] = '\0';
}
