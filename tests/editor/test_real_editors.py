"""A faulty plan opened in real editors: the finding on its line, the quick fix made, saved, and the finding gone."""

from __future__ import annotations

from pathlib import Path

import pytest

from editor.real import FAULTY, HIGHLIGHT, LINE, MENDED, EditorBench, setup
from trackplan.tables import KEYWORDS

WAITING_NEOVIM = """
local function until_true(what, holds)
  if not vim.wait(20000, holds, 50) then
    print("waited in vain: " .. what)
    vim.cmd("cquit")
  end
end
"""

WAITING_EMACS = """
(defun until (what holds)
  (let ((left 400))
    (while (and (> left 0) (not (funcall holds)))
      (accept-process-output nil 0.05)
      (setq left (1- left)))
    (when (= left 0) (message "waited in vain: %s" what) (kill-emacs 1))))
(setq eglot-sync-connect 20 eglot-send-changes-idle-time 0)
(find-file "mill.trackplan")
(run-hooks 'post-command-hook)
(until "a server" (lambda () (eglot-current-server)))
(flymake-mode 1)
(flymake-start)
(until "a finding" (lambda () (= 1 (length (flymake-diagnostics)))))
"""
"""Opens the plan, and waits for its finding."""

NEOVIM = """
vim.cmd("edit mill.trackplan")
until_true("a finding", function() return #vim.diagnostic.get(0) == 1 end)
local found = vim.diagnostic.get(0)[1]
local code = found.code or found.user_data.lsp.code
print(string.format("found %s on line %d from %s\\n", code, found.lnum + 1, found.source))
vim.api.nvim_win_set_cursor(0, { found.lnum + 1, 0 })
vim.ui.select = function(items, _, chosen) chosen(items[1], 1) end
vim.lsp.buf.code_action({ only = { "quickfix" } })
until_true("the fix", function() return vim.bo.modified end)
vim.cmd("write")
until_true("no finding", function() return #vim.diagnostic.get(0) == 0 end)
print("gone\\n")
vim.cmd("quitall")
"""

EMACS = """
(setq last-nonmenu-event t) ; as after a key: where several fixes are offered, no mouse is asked
(let ((found (car (flymake-diagnostics))))
  (message "found on line %d: %s" (line-number-at-pos (flymake-diagnostic-beg found))
           (car (split-string (flymake-diagnostic-text found) "\\n")))
  (goto-char (flymake-diagnostic-beg found)))
(cl-letf (((symbol-function 'completing-read) (lambda (prompt choices &rest _) (caar choices))))
  (eglot-code-actions (point) (line-end-position) "quickfix" t))
(until "the fix" #'buffer-modified-p)
(save-buffer)
(until "no finding" (lambda () (eglot--signal-textDocument/didChange) (flymake-start) (null (flymake-diagnostics))))
(message "gone")
(kill-emacs 0)
"""

RESTARTED_EMACS = """
(sleep-for 3.5) ; one that ends within three seconds is not started again
(let ((first (eglot-current-server)))
  (signal-process (jsonrpc--process first) 9)
  (until "another server" (lambda () (let ((now (eglot-current-server))) (and now (not (eq now first)))))))
(goto-char (point-max))
(insert "segment  shed  stop -> stop  1 m\n")
(until "the findings of now"
  (lambda () (eglot--signal-textDocument/didChange) (flymake-start) (= 2 (length (flymake-diagnostics)))))
(message "inspected again")
(set-buffer-modified-p nil)
(kill-emacs 0)
"""


@pytest.fixture
def bench(tmp_path: Path) -> EditorBench:
    return EditorBench(tmp_path)


def test_neovim(bench: EditorBench) -> None:
    bench.write("init.lua", setup("lua"))
    bench.write("script.lua", WAITING_NEOVIM + NEOVIM)
    told = bench.run("nvim", "--headless", "-u", "init.lua", "-c", "luafile script.lua")
    assert f"found opposed-at-gap on line {LINE} from railbond" in told
    assert "gone" in told
    assert bench.plan.read_text() == MENDED


RESTARTED = """
vim.notify = function(text) print(text .. "\\n") end
vim.cmd("edit mill.trackplan")
until_true("a finding", function() return #vim.diagnostic.get(0) == 1 end)
local first = vim.lsp.get_active_clients()[1]
vim.loop.kill(first.rpc.pid, 9)
until_true("another server", function()
  local now = vim.lsp.get_active_clients()[1]
  return now and now.id ~= first.id
end)
vim.api.nvim_buf_set_lines(0, 0, 0, false, { "segment  shed  stop -> stop  1 m" })
until_true("the findings of now", function() return #vim.diagnostic.get(0) == 2 end)
print("inspected again\\n")
vim.cmd("quitall!")
"""


def test_neovim_starts_a_dead_server_again_and_says_so(bench: EditorBench) -> None:
    bench.write("init.lua", setup("lua"))
    bench.write("script.lua", WAITING_NEOVIM + RESTARTED)
    told = bench.run("nvim", "--headless", "-u", "init.lua", "-c", "luafile script.lua")
    assert "railbond has ended: it is started again" in told and "inspected again" in told, told


def test_emacs(bench: EditorBench) -> None:
    bench.write("init.el", "(package-initialize)\n" + setup("elisp"))
    bench.write("script.el", WAITING_EMACS + EMACS)
    told = bench.run("emacs", "-q", "--batch", "-l", "init.el", "-l", "script.el")
    assert f"found on line {LINE}: short" in told.replace("railbond [opposed-at-gap]: ", ""), told
    assert "gone" in told, told
    assert bench.plan.read_text() == MENDED


def test_emacs_starts_a_dead_server_again_and_says_so(bench: EditorBench) -> None:
    bench.write("init.el", "(package-initialize)\n" + setup("elisp"))
    bench.write("script.el", WAITING_EMACS + RESTARTED_EMACS)
    told = bench.run("emacs", "-q", "--batch", "-l", "init.el", "-l", "script.el")
    assert "Reconnected" in told and "inspected again" in told, told


def vim(bench: EditorBench, *commands: str) -> str:
    bench.write("vimrc", setup("vim"))
    words = [word for command in commands for word in ("-c", command)]
    return bench.run("vim", "-N", "-u", "vimrc", "-i", "NONE", "-n", "-es", *words, "-c", "qall!")


def test_vim_make_jumps_to_the_finding(bench: EditorBench) -> None:
    found = (
        'map(getqflist(), \'v:val.valid . " " . bufname(v:val.bufnr) . ":" . v:val.lnum . v:val.type . v:val.text\')'
    )
    vim(bench, "edit mill.trackplan", "silent make", f"call writefile({found}, 'found.txt')")
    (line,) = (bench.folder / "found.txt").read_text().splitlines()
    assert line.startswith(f"1 mill.trackplan:{LINE}eshort: ") and line.endswith("(rule opposed-at-gap)")


def test_vim_make_finds_nothing_in_a_sound_plan(bench: EditorBench) -> None:
    bench.plan.write_text(MENDED)
    vim(bench, "edit mill.trackplan", "silent make", "call writefile(map(getqflist(), 'v:val.text'), 'found.txt')")
    assert (bench.folder / "found.txt").read_text() == ""


def test_vim_knows_every_keyword_and_unit(bench: EditorBench) -> None:
    """The names of what Vim sees at the first column of each line, and at the last."""
    words = sorted(KEYWORDS)
    lines = [f"x {word}" for word in words] + ["x 3 ft 6 in", "x 1.5 mm²", "x west-2.left", 'x "a 3 m"', "x # 3 m"]
    bench.plan.write_text("\n".join([*lines, *words, ""]))
    look = "map(range(1, line('$')), 'synIDattr(synID(v:val, col([v:val, \"$\"]) - 1, 1), \"name\")')"
    vim(bench, "edit mill.trackplan", f"call writefile({look}, 'seen.txt')")
    seen = (bench.folder / "seen.txt").read_text().split()
    assert set(seen[: len(words)]) == {"trackplanKeyword"}
    others = ["Number", "Number", "Name", "Text", "Comment"]
    assert seen[len(words) : len(lines)] == [f"trackplan{other}" for other in others]
    assert set(seen[len(lines) :]) == {"trackplanKeyword", "trackplanStatement"}


def test_readme_tells_which_versions_were_tried(bench: EditorBench) -> None:
    """So that a newer Debian makes us look again."""
    assert FAULTY != MENDED and HIGHLIGHT.is_dir()
    assert "NVIM v0.7.2" in bench.run("nvim", "--version")
    assert "GNU Emacs 28.2" in bench.run("emacs", "--version")
    assert "Vi IMproved 9.0" in bench.run("vim", "--version")
