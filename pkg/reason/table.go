package reason

var table = Entries{
	{NotAnImage, true, "not an image", "give a photo file: JPEG, PNG, TIFF, BMP, WebP or HEIC"},
	{Unsupported, true, "format not supported", "save the photo as JPEG or PNG and try again"},
	{Truncated, true, "file is damaged", "copy the file from the camera again: part of it is missing or damaged"},
	{TooLarge, true, "file is too large", "export the photo smaller"},
	{TooManyPixels, true, "too many pixels", "export the photo smaller, or raise the limit with --max-megapixels"},
	{TooSmall, true, "image is too small",
		"use the full-size photo, not a thumbnail: the short side must be 160 pixels or more"},
	{TooSlow, true, "takes too long to read", "save the photo anew as JPEG, in an ordinary way, and try again"},
	{Unreachable, true, "file cannot be read", "check the name and the permission of the file"},
	{BadMarks, true, "marks cannot be used",
		"correct the marks, given by --head, --stem, --marks or the file PHOTO.marks.yaml (valvegrade schema " +
			"marks tells its form), or leave them out to let the program find the valve"},
	{NoValve, true, "no valve found",
		"aim the lens at the back of one valve so that head and stem are in view, then retake; or set marks " +
			"by hand"},
	{TooDark, true, "too dark", "turn the light up or go closer, and retake"},
	{TooBright, true, "burnt out", "turn the light down or back off a little, and retake"},
	{Blurred, true, "out of focus", "wipe the lens, hold the tip at its focus distance, and retake"},
	{Moving, true, "smeared by motion", "rest the probe against the port wall, hold still, and retake"},
	{ValveTooSmall, true, "valve too small",
		"come closer until the valve fills at least a tenth of the frame, and retake"},
	{MostlyUnreadable, true, "mostly unreadable",
		"tilt the tip so that the light does not shine straight back, wipe off oil, and retake"},
	{MostlyShadow, true, "mostly black shadow",
		"turn the light up, bring it closer or come from another angle, and retake"},
	{Failed, true, "program failed", "report this photo to the developers: the program failed on it"},

	{MethodsDisagree, false, "two readings disagree",
		"look at the overlay before trusting the grade: the net and the formula read this surface " +
			"differently; retake with other light"},
	{LowConfidence, false, "outline uncertain", "check the outline in the overlay; set marks by hand if it is off"},
	{Glare, false, "glare on the valve", "tilt the tip a little: part of the valve shines back and was set aside"},
	{SoftFocus, false, "soft focus",
		"wipe the lens or change the distance: fine texture is lost, so the interval is wide"},
	{Unsteady, false, "slight smear",
		"rest the probe against the port wall: fine texture is lost along the movement, so the interval is " +
			"wide"},
	{Dim, false, "dim and noisy", "turn the light up or go closer: noise hides fine texture, so the interval is wide"},
	{FarAway, false, "valve is small",
		"come closer until it fills at least a tenth: fine texture is lost at this distance"},
	{CutOff, false, "valve partly outside",
		"move back so that the whole head is in view: only what is visible was graded"},
	{OtherValve, false, "second valve in view",
		"only the principal valve was graded: take the other valve's photo for its own grade"},
	{StemHidden, false, "stem not visible", "nothing to do if the guide hides it: the grade rests on the head alone"},
}
