-- What the book decides for itself. Order: by name.
SELECT name, value FROM setting_now ORDER BY name
