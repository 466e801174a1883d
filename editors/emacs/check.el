;;; check.el --- Drives the real server from a batch Emacs  -*- lexical-binding: t -*-

;; OHMSTEAD_BIN=…/ohmstead PLAN=DIR emacs --batch -q -l check.el
;;
;; DIR is a copy of editors/testdata/broken; nothing is saved.  Each step
;; prints a line "ok: …" or "FAIL: …"; the exit code is 1 when one failed.  An
;; Emacs without Eglot prints only "lacks: …".

;; With -q the packages of the distribution are known, of the user's set-up nothing.
(package-initialize)
(require 'cl-lib)
(unless (require 'eglot nil t)
  (princ "lacks: the package Eglot (in Emacs from 29 on; elpa-eglot in Debian)\n")
  (kill-emacs 1))
(add-to-list 'load-path (file-name-directory load-file-name))
(require 'ohmstead-mode)

(defvar check-failed nil)

(defmacro check-step (name &rest body)
  "Run BODY as the step NAME and print what it returns, or the error."
  (declare (indent 1))
  `(condition-case problem
       (check-say "ok" ,name (progn ,@body))
     (error (setq check-failed t)
            (check-say "FAIL" ,name (error-message-string problem)))))

(defun check-say (how name text)
  (princ (format "%s: %s: %s\n" how name
                 (replace-regexp-in-string "[ \t]*\n[ \t\n]*" " | " (format "%s" text)))))

(defun check-await (what condition)
  "Call CONDITION until it gives something, for 3 min at most."
  (let ((end (+ (float-time) 180)) value)
    (while (and (not (setq value (funcall condition))) (< (float-time) end))
      (accept-process-output nil 0.02))
    (or value (error "waited in vain for %s" what))))

(defun check-go (regexp)
  "Go behind the first match of REGEXP."
  (goto-char (point-min))
  (re-search-forward regexp))

(defun check-send ()
  "Tell the server of edits: batch Emacs has no idle time to do it in."
  (eglot--signal-textDocument/didChange))

(defun check-diagnostics (regexp)
  "Errors on the line of REGEXP."
  (flymake-start)
  (save-excursion
    (check-go regexp)
    (cl-remove-if-not (lambda (d) (eq (flymake-diagnostic-type d) 'eglot-error))
                      (flymake-diagnostics (line-beginning-position) (line-end-position)))))

(setq eglot-sync-connect 180
      eglot-connect-timeout 180
      jsonrpc-default-request-timeout 180
      ohmstead-command (list (or (getenv "OHMSTEAD_BIN") (error "OHMSTEAD_BIN is not set")) "lsp")
      ;; A character, not a mouse event: else a menu would open.
      last-nonmenu-event ?x
      create-lockfiles nil)
(find-file (expand-file-name "porch.ohm.hcl" (or (getenv "PLAN") (error "PLAN is not set"))))

(check-step "colours"
  (font-lock-ensure)
  (check-go "^ru")
  (cl-assert (eq (get-text-property (point) 'face) 'font-lock-keyword-face))
  (check-go "= cat")
  (cl-assert (eq (get-text-property (1- (point)) 'face) 'font-lock-type-face))
  (check-go "1 A")
  (cl-assert (memq 'font-lock-constant-face (ensure-list (get-text-property (1- (point)) 'face))))
  major-mode)

(check-step "indent"
  (let ((as-written (buffer-string)))
    (goto-char (point-min))
    (search-forward "controller.brain.power")
    (beginning-of-line)
    (cl-assert (looking-at "    to"))
    (indent-region (point-min) (point-max))
    (cl-assert (looking-at "  to"))
    (erase-buffer)
    (insert as-written)
    "by depth"))

(check-step "start"
  (apply #'eglot (eglot--guess-contact))
  (plist-get (eglot--server-info (eglot-current-server)) :name))

(check-step "diagnostic"
  (flymake-diagnostic-text
   (car (check-await "an error at length = 1.2" (lambda () (check-diagnostics "length = 1\\.2$"))))))

(check-step "completion"
  (check-go "wire = wire\\.")
  (pcase-let* ((`(,_ ,_ ,table . ,_) (eglot-completion-at-point))
               (names (mapcar #'substring-no-properties (all-completions "" table))))
    (cl-assert (and (member "feed" names) (member "data" names)) nil "offered: %S" names)
    (string-join names " ")))

(check-step "quick fix"
  (check-go "length = 1")
  (let* ((actions (eglot-code-actions (point) (point)))
         (titles (mapcar (lambda (a) (plist-get a :title)) actions))
         (title (or (cl-find-if (lambda (s) (string-match-p "1\\.2 m\\(\"\\|\\'\\)" s)) titles)
                    (error "offered: %S" titles))))
    (cl-letf (((symbol-function 'completing-read) (lambda (&rest _) title)))
      (eglot-code-actions (point) (point) nil t))
    (check-go "length = \"1\\.2 m\"$")
    (check-send)
    (check-await "the error to go" (lambda () (null (check-diagnostics "length = \"1\\.2 m\""))))
    title))

(check-step "hover"
  (check-await "the voltage and the pixels of run.arch"
               (lambda ()
                 (check-go "^ru")
                 (let* ((answer (jsonrpc-request (eglot-current-server) :textDocument/hover
                                                 (eglot--TextDocumentPositionParams)))
                        (text (and answer (eglot--hover-info (plist-get answer :contents)))))
                   (and text (string-match-p "[0-9] V" text) (string-match-p "216" text) text)))))

(check-step "format"
  (eglot-format-buffer)
  (check-send)
  (check-go "^  to     = controller\\.brain\\.power$")
  (check-go "^  fuse   = \"1 A\"$")
  (match-string 0))

(check-step "rename"
  (check-go "^wire \"f")
  (eglot-rename "thick")
  (check-send)
  (check-go "^wire \"thick\"")
  (check-go "wire\\.thick$")
  (goto-char (point-min))
  (cl-assert (not (search-forward "feed" nil t)))
  "wire.thick")

(check-step "live page"
  (let* ((shown nil)
         (browse-url-browser-function (lambda (url &rest _) (setq shown url))))
    (ohmstead-show)
    (cl-assert (string-match-p "^http://127\\.0\\.0\\.1:[0-9]+/" shown))
    "served on this machine"))

(check-step "stop"
  (eglot-shutdown (eglot-current-server) nil 5)
  "the server ended")

(set-buffer-modified-p nil)
(kill-emacs (if check-failed 1 0))
