using System.Collections.Immutable;
using System.Text.Json;
using Commission.Practice.Draws;
using Commission.Practice.Operators;

namespace Commission.Practice.Populations;

/// <summary>Reads the file <c>commission.population/1</c>. The file is ours: a part that is missing is a defect and throws.</summary>
public static class PopulationFile
{
    /// <summary>Reads a population from the text of its file.</summary>
    public static Population Read(string json)
    {
        using var document = JsonDocument.Parse(json);
        var root = document.RootElement;
        var wrong = root.GetProperty("wrong_nominal");
        var hole = root.GetProperty("hole_diameter_mm");
        var tools = root.GetProperty("instruments");
        var area = root.GetProperty("work_area_mm");
        return new Population
        {
            Drives = [.. root.GetProperty("drives").EnumerateArray().Select(Drive)],
            Hands = [.. root.GetProperty("operators").EnumerateArray().Select(person => (Number(person, "share"), HandOf(person)))],
            Slips = SlipsOf(root.GetProperty("slips")),
            WrongNominalShare = Number(wrong, "share_of_machines"),
            WrongNominalBothAxes = Number(wrong, "both_axes"),
            WrongNominalFactors = [.. wrong.GetProperty("factors").EnumerateArray().Select(f => (Number(f, "weight"), Number(f, "factor")))],
            SquarenessMrad = LawOf(root.GetProperty("squareness_as_built_mrad")),
            DriveWarmerK = LawOf(root.GetProperty("temperature_drive_minus_caliper_K")),
            MarkScatterMm = LawOf(root.GetProperty("mark_scatter_mm")),
            HoleExcessMm = LawOf(hole.GetProperty("excess")),
            HoleNominalMm = Number(hole, "nominal"),
            HoleScatterMm = Number(hole, "scatter_between_holes_sd"),
            CaliperRanges = [.. tools.GetProperty("caliper_ranges").EnumerateArray().Select(r => (Number(r, "share"), Number(r, "range_mm")))],
            CaliperLimitMm = Number(tools, "limit_mm"),
            CaliperResolutionMm = Number(tools, "resolution_mm"),
            CaliperErrorInLimits = new Law.Mixture([.. tools.GetProperty("largest_error_in_limits").EnumerateArray()
                .Select(part => (Number(part, "weight"), (Law)new Law.Uniform(Number(part, "low"), Number(part, "high"))))]),
            InsideJawOffsetMm = LawOf(tools.GetProperty("inside_jaw_offset_mm")),
            CaliperLocalSdMm = Number(tools, "local_sd_mm"),
            TapeScaleHalfWidthPpm = Number(tools.GetProperty("tape"), "scale_half_width_ppm"),
            TapeHookHalfWidthMm = Number(tools.GetProperty("tape"), "hook_half_width_mm"),
            WorkAreaMm = (Number(area, "x"), Number(area, "y")),
        };
    }

    private static PopulationDrive Drive(JsonElement drive) => new()
    {
        Id = drive.GetProperty("id").GetString()!,
        Share = Number(drive, "share"),
        KnownGrade = drive.GetProperty("known_grade") is { ValueKind: JsonValueKind.Number } grade ? grade.GetInt32() : null,
        ScaleErrorPpm = LawOf(drive.GetProperty("scale_error_ppm")),
        WindowScatterPpm = LawOf(drive.GetProperty("window_scatter_ppm")),
        LostMotionMm = LawOf(drive.GetProperty("lost_motion_mm")),
        PeriodicAmplitudeMm = LawOf(drive.GetProperty("periodic_amplitude_mm")),
        PeriodMm = Number(drive, "period_mm"),
        ExpansionPpmPerK = Number(drive, "expansion_ppm_per_K"),
        WrongNominalLimit = Number(drive, "wrong_nominal_limit"),
        PlausibleSdPpm = Number(drive, "plausible_sd_ppm"),
    };

    private static Hand HandOf(JsonElement person) => new()
    {
        Name = person.GetProperty("id").GetString()!,
        ReadingSdMm = Number(person, "reading_sd_mm"),
        SlipRate = Number(person, "slip_rate"),
        TakesUpLostMotion = Number(person, "takes_up_lost_motion"),
        JawTiltDeg = Number(person, "jaw_tilt_deg"),
        TapeSdMm = Number(person, "tape_sd_mm"),
    };

    private static SlipHabits SlipsOf(JsonElement slips)
    {
        var noticed = slips.GetProperty("noticed_without_help");
        ImmutableArray<(double, Slip)> kinds = [.. slips.GetProperty("kinds").EnumerateArray().Select(kind =>
            (Number(kind, "weight"), kind.GetProperty("kind").GetString() switch
            {
                "add" => (Slip)new Slip.Miscount(Number(kind, "mm")),
                "swap_tenths_hundredths" => new Slip.SwapsDigits(),
                var other => throw new JsonException($"unknown slip '{other}'"),
            }))];
        return new SlipHabits(kinds, Number(noticed, "beyond_mm"), Number(noticed, "probability"));
    }

    private static Law LawOf(JsonElement law) => law.GetProperty("law").GetString() switch
    {
        "uniform" when law.TryGetProperty("half_width", out var half) => new Law.Uniform(-half.GetDouble(), half.GetDouble()),
        "uniform" => new Law.Uniform(Number(law, "low"), Number(law, "high")),
        "normal" => new Law.Normal(0, Number(law, "sd")),
        "lognormal" => new Law.LogNormal(Number(law, "median"), Number(law, "sigma")),
        "mixture" => new Law.Mixture([.. law.GetProperty("parts").EnumerateArray().Select(part => (Number(part, "weight"), LawOf(part)))]),
        var other => throw new JsonException($"unknown law '{other}'"),
    };

    private static double Number(JsonElement parent, string name) => parent.GetProperty(name).GetDouble();
}
