package org.layroom.dashboard.announce;

import java.net.URI;
import java.nio.file.Path;
import java.util.Optional;

/**
 * Where announcements are posted.
 *
 * @param uri http or https
 * @param headerFile lines {@code Name: value} that go with each, such as a password; read anew each
 *     time
 */
public record HouseAddress(
    URI uri, Optional<Path> headerFile, String contentType, BodyTemplate body) {}
