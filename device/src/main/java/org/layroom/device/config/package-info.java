/** The device's settings file, read and checked. Never starts anything. */
@NullMarked
package org.layroom.device.config;

import org.jspecify.annotations.NullMarked;
