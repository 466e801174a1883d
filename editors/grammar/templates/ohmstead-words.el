;;; ohmstead-words.el --- Words of Ohmstead plans  -*- lexical-binding: t -*-
;; Written by editors/grammar/build.mjs.

(defconst ohmstead-blocks '({{blocks lisp}} {{nested lisp}}))
(defconst ohmstead-roots '({{blocks lisp}} "catalog"))
(defconst ohmstead-attributes '({{attributes lisp}}))
(defconst ohmstead-functions '({{functions lisp}}))
(defconst ohmstead-places '({{places lisp}}))
(defconst ohmstead-units '({{units lisp}}))

(provide 'ohmstead-words)
;;; ohmstead-words.el ends here
