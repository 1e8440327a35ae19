using Mono.Cecil;
using Mono.Cecil.Cil;

namespace Commission.App.Tests.Architecture;

/// <summary>What a compiled assembly refers to.</summary>
internal static class Compiled
{
    private static readonly Dictionary<string, AssemblyDefinition> Read = [];

    /// <summary>An assembly beside the tests, by name without its ending.</summary>
    public static AssemblyDefinition Assembly(string name)
    {
        lock (Read)
        {
            if (!Read.TryGetValue(name, out var assembly))
                Read[name] = assembly = AssemblyDefinition.ReadAssembly(Path.Combine(AppContext.BaseDirectory, name + ".dll"));
            return assembly;
        }
    }

    /// <summary>Every type of an assembly, nested ones too.</summary>
    public static IEnumerable<TypeDefinition> Types(string assembly) => Assembly(assembly).MainModule.GetTypes();

    /// <summary>The type without its nesting: the one that stands in a namespace.</summary>
    public static TypeReference Outermost(TypeReference type) => type.DeclaringType is { } outer ? Outermost(outer) : type;

    /// <summary>Types that a type names in its shape or its code, generic arguments taken apart.</summary>
    public static IEnumerable<TypeReference> UsedBy(TypeDefinition type)
    {
        IEnumerable<TypeReference?> named =
        [
            type.BaseType,
            .. type.Interfaces.Select(i => i.InterfaceType),
            .. type.CustomAttributes.Select(a => a.AttributeType),
            .. type.Fields.Select(f => f.FieldType),
            .. type.Methods.SelectMany(Shape),
            .. type.Methods.Where(m => m.HasBody).SelectMany(m => m.Body.Variables.Select(v => v.VariableType)),
            .. type.Methods.Where(m => m.HasBody).SelectMany(m => m.Body.Instructions).SelectMany(Operand),
        ];
        return named.OfType<TypeReference>().SelectMany(Apart);
    }

    /// <summary>Methods that a type calls, as <c>Type::Member</c>.</summary>
    public static IEnumerable<string> CalledBy(TypeDefinition type) =>
        type.Methods.Where(m => m.HasBody).SelectMany(m => m.Body.Instructions)
            .Select(i => i.Operand).OfType<MethodReference>()
            .Select(m => $"{m.DeclaringType.GetElementType().FullName}::{m.Name}");

    private static IEnumerable<TypeReference?> Shape(MethodDefinition method) =>
        [method.ReturnType, .. method.Parameters.Select(p => p.ParameterType), .. method.GenericParameters.SelectMany(g => g.Constraints).Select(c => c.ConstraintType)];

    private static IEnumerable<TypeReference?> Operand(Instruction instruction) => instruction.Operand switch
    {
        TypeReference type => [type],
        GenericInstanceMethod generic => [generic.DeclaringType, generic.ReturnType, .. generic.GenericArguments],
        MethodReference method => [method.DeclaringType, method.ReturnType, .. method.Parameters.Select(p => p.ParameterType)],
        FieldReference field => [field.DeclaringType, field.FieldType],
        _ => [],
    };

    private static IEnumerable<TypeReference> Apart(TypeReference type) => type switch
    {
        GenericParameter => [],
        GenericInstanceType generic => [generic.ElementType, .. generic.GenericArguments.SelectMany(Apart)],
        TypeSpecification specification => Apart(specification.ElementType),
        _ => [type],
    };
}
