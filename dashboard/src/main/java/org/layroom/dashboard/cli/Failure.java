package org.layroom.dashboard.cli;

/** Something that stops a command though its input was fine: exit status 1, with the words. */
final class Failure extends Exception {
  Failure(String words) {
    super(words);
  }

  Failure(String words, Throwable cause) {
    super(words, cause);
  }
}
