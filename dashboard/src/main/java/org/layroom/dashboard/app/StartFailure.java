package org.layroom.dashboard.app;

/** Something that stops a command though its input was fine: exit status 1, with the words. */
public final class StartFailure extends Exception {
  public StartFailure(String words) {
    super(words);
  }

  public StartFailure(String words, Throwable cause) {
    super(words, cause);
  }
}
