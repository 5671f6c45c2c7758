package org.layroom.dashboard.answer.job;

import java.time.Instant;

/**
 * Something about a job that a person should hear now.
 *
 * @param id the same as long as it is the same news: a sound is made once for each
 * @param job id of the job
 * @param part what is made
 * @param words one or two sentences
 * @param since from when it holds
 */
record JobNotice(String id, String job, String part, Phase phase, String words, Instant since) {
  /** How a window stands. */
  enum Phase {
    SOON("soon"),
    OPEN("open"),
    CLOSING("closing"),
    PAST("past"),
    MIND("mind");

    private final String id;

    Phase(String id) {
      this.id = id;
    }

    String id() {
      return id;
    }
  }
}
