package org.layroom.dashboard.access;

import java.util.Arrays;
import java.util.Optional;

/** What somebody who is paired may do. */
public enum Role {
  /** Read and write everything that a tablet in the shop needs. */
  FULL("full", "has full access"),
  /** Look at everything, change nothing. */
  READ_ONLY("read-only", "is read-only"),
  /** Fetch calendars, nothing else: the token stands in an address, which many programs show. */
  CALENDAR("calendar", "can fetch calendars and nothing else");

  private final String id;
  private final String words;

  Role(String id, String words) {
    this.id = id;
    this.words = words;
  }

  /** As it is written in the API and on the command line. */
  public String id() {
    return id;
  }

  public String words() {
    return words;
  }

  /** The role of this id, if there is one. */
  public static Optional<Role> of(String id) {
    return Arrays.stream(values()).filter(role -> role.id.equals(id)).findFirst();
  }
}
