package org.layroom.dashboard.access;

import java.time.Instant;

/**
 * A device of a person that was let in, as it can be shown to anybody on this machine: it holds
 * nothing to come in with.
 *
 * @param id to revoke it by; no secret
 * @param name typed by the person, 1 to 40 characters
 * @param made when it was paired
 * @param seen when it last asked for something
 */
public record AccessSession(String id, String name, Role role, Instant made, Instant seen) {
  AccessSession seenAt(Instant time) {
    return new AccessSession(id, name, role, made, time);
  }
}
