#include "platform/screen.h"

#include <curses.h>
#include <locale.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <term.h>
#include <termios.h>
#include <unistd.h>
#include "platform/signals.h"
#include "platform/terminal.h"

enum { ESCAPE_WAIT_MS = 50, LEAVE_SIZE = 256, PUT_MOST = 1024 };

static SCREEN *screen;
static locale_t characters, before;
static struct termios shell; /* how the terminal was */
static char leave[LEAVE_SIZE];
static size_t leave_length;

/* --- When a signal ends the program: calls that may stand in a handler, and bytes made ready --------- */

static int keep_byte(int byte) {
    if (leave_length < LEAVE_SIZE) leave[leave_length++] = (char)byte;
    return byte;
}

static void keep_leaving(void) {
    static const char *const names[] = {"sgr0", "cnorm", "rmkx", "rmcup"};
    leave_length = 0;
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        char name[8];
        (void)strcpy(name, names[i]);
        const char *bytes = tigetstr(name);
        if (bytes && bytes != (char *)-1) (void)tputs(bytes, 1, keep_byte);
    }
}

static void give_back(void) {
    ssize_t written = write(STDOUT_FILENO, leave, leave_length);
    (void)written; /* the terminal may be gone */
    (void)tcsetattr(STDIN_FILENO, TCSANOW, &shell);
}

/* --- Open and close ---------------------------------------------------------------------------------- */

/* Whether the terminal can place its cursor and clear itself. */
static bool can_show(void) {
    int error = 0;
    if (setupterm(NULL, STDOUT_FILENO, &error) != OK) return false;
    bool can = cursor_address && clear_screen;
    (void)del_curterm(cur_term);
    return can;
}

/* For this thread alone; what the program writes is UTF-8 in every locale. */
static void enter_characters(void) {
    characters = newlocale(LC_CTYPE_MASK, "C.UTF-8", (locale_t)0);
    if (characters == (locale_t)0) characters = newlocale(LC_CTYPE_MASK, "", (locale_t)0);
    if (characters != (locale_t)0) before = uselocale(characters);
}

static void leave_characters(void) {
    if (characters == (locale_t)0) return;
    (void)uselocale(before);
    freelocale(characters);
    characters = (locale_t)0;
}

bool hf_platform_screen_open(void) {
    if (!isatty(STDIN_FILENO) || !isatty(STDOUT_FILENO) || tcgetattr(STDIN_FILENO, &shell) != 0 ||
        !can_show())
        return false;
    enter_characters();
    screen = newterm(NULL, stdout, stdin);
    if (!screen) {
        leave_characters();
        return false;
    }
    (void)cbreak();
    (void)noecho();
    (void)set_escdelay(ESCAPE_WAIT_MS);
    (void)keypad(stdscr, TRUE);
    (void)nodelay(stdscr, TRUE);
    keep_leaving();
    hf_platform_at_signal(give_back);
    return true;
}

void hf_platform_screen_close(void) {
    if (!screen) return;
    (void)endwin();
    hf_platform_at_signal(NULL);
    delscreen(screen);
    screen = NULL;
    leave_characters();
}

/* --- Out and in -------------------------------------------------------------------------------------- */

void hf_platform_screen_size(size_t *across,
                             size_t *down) { /* the names of the header are macros of term.h */
    *across = (size_t)COLS;
    *down = (size_t)LINES;
}

void hf_platform_screen_clear(void) {
    (void)erase();
}

void hf_platform_screen_put(size_t row, size_t column, const char *text, bool strong) {
    if (row >= (size_t)LINES || column >= (size_t)COLS) return;
    wchar_t wide[PUT_MOST]; /* bytes would be taken as those of the locale of the whole process */
    size_t length = mbstowcs(wide, text, PUT_MOST);
    if (length == (size_t)-1) return;
    if (strong) (void)attron(A_BOLD);
    (void)mvaddnwstr((int)row, (int)column, wide, (int)length);
    if (strong) (void)attroff(A_BOLD);
}

void hf_platform_screen_show(void) {
    (void)refresh();
}

void hf_platform_screen_bell(void) {
    (void)beep();
    (void)refresh();
}

static int meaning_of(int key) {
    switch (key) {
    case KEY_RESIZE:
        return HF_SCREEN_RESIZED;
    case KEY_ENTER:
    case '\r':
        return HF_SCREEN_ENTER;
    case KEY_BACKSPACE:
    case 127:
        return HF_SCREEN_ERASE;
    default:
        return key < 256 ? key : HF_SCREEN_NOTHING;
    }
}

/* That something can be read and nothing is, is the end. */
int hf_platform_screen_key(double seconds) {
    int key = getch();
    if (key != ERR) return meaning_of(key);
    bool waits = hf_platform_input_within(seconds);
    key = getch();
    if (key != ERR) return meaning_of(key);
    return waits ? HF_SCREEN_ENDED : HF_SCREEN_NOTHING;
}
