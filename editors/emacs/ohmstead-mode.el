;;; ohmstead-mode.el --- Major mode for Ohmstead plans  -*- lexical-binding: t -*-

;; Version: 0.1.0
;; Package-Requires: ((emacs "26.1"))
;; Keywords: languages

;;; Commentary:

;; Colours *.ohm.hcl files and tells Eglot how to start the server:
;;
;;   (add-to-list 'load-path "CLONE/editors/emacs")
;;   (require 'ohmstead-mode)
;;   (add-hook 'ohmstead-mode-hook #'eglot-ensure)

;;; Code:

(require 'ohmstead-words)

(defgroup ohmstead nil "Plans of LED strip installations." :group 'languages)

(defcustom ohmstead-command '("ohmstead" "lsp")
  "The server's program and arguments."
  :type '(repeat string))

(defcustom ohmstead-indent 2
  "Spaces for each level."
  :type 'integer
  :safe #'integerp)

(defvar ohmstead-mode-syntax-table
  (let ((table (make-syntax-table)))
    (modify-syntax-entry ?# "<" table)
    (modify-syntax-entry ?\n ">" table)
    (modify-syntax-entry ?/ ". 124b" table)
    (modify-syntax-entry ?* ". 23bn" table)
    (modify-syntax-entry ?\" "\"" table)
    (modify-syntax-entry ?_ "_" table)
    (modify-syntax-entry ?- "_" table)
    (modify-syntax-entry ?= "." table)
    table))

(defconst ohmstead-font-lock-keywords
  (let ((number "[-+]?\\(?:[0-9]+ +\\)?[0-9]*[./]?[0-9]+"))
    `(("#\\s-*\\(ohmstead:\\s-*allow\\)\\_>\\s-*\\([[:alpha:]][[:alnum:]_-]*\\)?\\(?:\\s-+\\(because\\)\\_>\\)?"
       (1 font-lock-preprocessor-face t) (2 font-lock-constant-face t t) (3 font-lock-preprocessor-face t t))
      (,(concat "\\_<" (regexp-opt ohmstead-blocks t) "\\(?:\\s-*\"[^\"\n]*\"\\)\\{0,2\\}\\s-*{") 1 font-lock-keyword-face)
      (,(concat "\\_<" (regexp-opt ohmstead-attributes t) "\\s-*=") 1 font-lock-variable-name-face)
      (,(concat "\\_<" (regexp-opt ohmstead-functions t) "\\s-*(") 1 font-lock-function-name-face)
      (,(concat "\\_<" (regexp-opt ohmstead-roots t) "\\.") 1 font-lock-type-face)
      (,(concat "\\." (regexp-opt ohmstead-places t) "\\_>") 1 font-lock-constant-face)
      ("\\_<\\(?:true\\|false\\)\\_>" . font-lock-constant-face)
      (,(concat "\"\\s-*" number "\\s-*" (regexp-opt ohmstead-units t) "\\(?:\\s-+" number "\\s-*" (regexp-opt ohmstead-units) "\\)?\\s-*\"")
       0 font-lock-constant-face t)
      ("[$%]{[^}\"\n]*}?" 0 font-lock-warning-face t)))
  "What is coloured in plans, and how.")

(defun ohmstead-indent-line ()
  "Indent the line by its depth in brackets; \\[eglot-format-buffer] lays out all of it."
  (interactive)
  (let* ((depth (save-excursion
                  (back-to-indentation)
                  (- (car (syntax-ppss)) (if (looking-at-p "[]})]") 1 0))))
         (column (* ohmstead-indent (max 0 depth))))
    (if (<= (current-column) (current-indentation))
        (indent-line-to column)
      (save-excursion (indent-line-to column)))))

;;;###autoload
(define-derived-mode ohmstead-mode prog-mode "Ohmstead"
  "Major mode for plans of LED strip installations."
  (setq-local comment-start "# "
              comment-start-skip "\\(?:#+\\|//+\\|/\\*+\\)\\s-*"
              comment-end ""
              indent-tabs-mode nil
              indent-line-function #'ohmstead-indent-line
              imenu-generic-expression `((nil ,(concat "^\\(" (regexp-opt ohmstead-blocks) "\\s-*\"[^\"\n]*\"\\)") 1))
              electric-indent-chars (append "}])" electric-indent-chars)
              font-lock-defaults '(ohmstead-font-lock-keywords)))

;;;###autoload
(add-to-list 'auto-mode-alist '("\\.ohm\\.hcl\\'" . ohmstead-mode))

(defvar eglot-server-programs)
(with-eval-after-load 'eglot
  (add-to-list 'eglot-server-programs
               '(ohmstead-mode . (lambda (&rest _) ohmstead-command))))

;;;###autoload
(defun ohmstead-show ()
  "Show the plan of this buffer in the browser, from its text as it is typed."
  (interactive)
  (require 'eglot)
  (browse-url
   (jsonrpc-request (eglot--current-server-or-lose) :workspace/executeCommand
                    (list :command "ohmstead.view"
                          :arguments (vector (plist-get (eglot--TextDocumentIdentifier) :uri) :json-false)))))

(declare-function eglot--current-server-or-lose "eglot")
(declare-function eglot--TextDocumentIdentifier "eglot")
(declare-function jsonrpc-request "jsonrpc")

(provide 'ohmstead-mode)
;;; ohmstead-mode.el ends here
